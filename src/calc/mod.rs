//! Calculators: one file a family of formulas, one row of the table a calculator. Text as typed in,
//! answers or refusals out.
//!
//! [`CALCULATORS`] is the one table that pages, phone, terminal and tests walk; [`reckon`] answers a row.
//! Knows no card, file or language; every formula names its source, its range and what it answers
//! at the ends of it. No number that leaves is infinite or not a number.

mod battery;
mod bus;
mod cable;
pub mod conductor;
mod current_loop;
mod distributions;
mod divider;
mod fitting;
mod given;
mod known_good;
mod limit;
mod measured_drop;
mod meter_accuracy;
mod meters;
pub mod outlier;
pub mod platinum;
mod pulled_up;
mod pulses;
mod read;
mod rtd;
mod shape;
mod signal_check;
mod signal_drop;
mod signal_drop_two_wire;
mod signal_range;
mod sizes;
mod span;
pub mod thermistor;
mod thermistor_rows;
mod thermocouple;
pub mod tolerance;
mod voltage_drop;
mod wire_size;

pub use given::{Given, reckon};
pub use shape::{Alternative, Answer, Calculator, Input, Kind, Outcome, Refusal, Used, Value};

/// Every calculator, in the order shown; those of one group stand together.
pub static CALCULATORS: &[Calculator] = &shape::rows([
    voltage_drop::VOLTAGE_DROP,
    measured_drop::MEASURED_DROP,
    wire_size::WIRE_SIZE,
    wire_size::WIRE_RUN,
    wire_size::WIRE_RESISTANCE,
    signal_range::SIGNAL_RANGE,
    signal_check::SIGNAL_CHECK,
    signal_drop::SIGNAL_DROP,
    signal_drop_two_wire::SIGNAL_DROP_TWO_WIRE,
    thermistor_rows::THERMISTOR_BETA,
    thermistor_rows::THERMISTOR_COEFFICIENTS,
    thermistor_rows::THERMISTOR_TWO_POINTS,
    thermistor_rows::THERMISTOR_THREE_POINTS,
    rtd::RTD,
    thermocouple::THERMOCOUPLE_K,
    divider::DIVIDER,
    meters::PULL_UP,
    meters::METER_LOADING,
    meters::POTENTIOMETER_LOADING,
    meters::LOADED_READINGS,
    meter_accuracy::METER_ACCURACY,
    pulses::PULSE_SPEED,
    pulses::WHEEL_SPEED,
    pulses::DUTY,
    current_loop::CURRENT_LOOP,
    bus::BUS_TERMINATION,
    bus::BUS_LEVELS,
    bus::SENT_PULSE,
    battery::BATTERY_AT_REST,
    known_good::KNOWN_GOOD,
]);

/// The calculator of this name.
pub fn by_name(name: &str) -> Option<&'static Calculator> {
    CALCULATORS
        .iter()
        .find(|calculator| calculator.name == name)
}
