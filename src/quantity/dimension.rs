//! The dimensions a card can speak of, and the units people write for each.
//!
//! In: a spelling. Out: the unit it names. The table [`UNITS`] is the only list of units.
//! Never: numbers; reading them is `read`, writing them `write`.

/// What is measured. The base unit is named at each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Volt.
    Voltage,
    /// Ohm.
    Resistance,
    /// Ampere.
    Current,
    /// Watt.
    Power,
    /// Degree Celsius.
    Temperature,
    /// Kelvin, a difference or a B value, never a point on a scale.
    TemperatureSpan,
    /// Pascal.
    Pressure,
    /// Hertz.
    Frequency,
    /// Second.
    Time,
    /// Metre.
    Length,
    /// Square metre.
    Area,
    /// Degree of angle.
    Angle,
    /// Part of one (50 % is 0.5).
    Ratio,
    /// Metre per second.
    Speed,
    /// Turns per minute.
    Rotation,
    /// Ohm per metre.
    ResistancePerLength,
}

/// One way of writing a dimension: `base = number * factor + offset`.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// The spellings accepted, the first is the one written.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Base units per one of this unit.
    pub factor: f64,
    /// Added after the factor (Fahrenheit).
    pub offset: f64,
}

impl Dimension {
    /// All dimensions.
    pub const ALL: [Dimension; 16] = [
        Dimension::Voltage,
        Dimension::Resistance,
        Dimension::Current,
        Dimension::Power,
        Dimension::Temperature,
        Dimension::TemperatureSpan,
        Dimension::Pressure,
        Dimension::Frequency,
        Dimension::Time,
        Dimension::Length,
        Dimension::Area,
        Dimension::Angle,
        Dimension::Ratio,
        Dimension::Speed,
        Dimension::Rotation,
        Dimension::ResistancePerLength,
    ];

    /// With its article, as a message says it: `a voltage`.
    pub fn name(self) -> &'static str {
        match self {
            Dimension::Voltage => "a voltage",
            Dimension::Resistance => "a resistance",
            Dimension::Current => "a current",
            Dimension::Power => "a power",
            Dimension::Temperature => "a temperature",
            Dimension::TemperatureSpan => "a temperature difference",
            Dimension::Pressure => "a pressure",
            Dimension::Frequency => "a frequency",
            Dimension::Time => "a time",
            Dimension::Length => "a length",
            Dimension::Area => "a wire size",
            Dimension::Angle => "an angle",
            Dimension::Ratio => "a percentage",
            Dimension::Speed => "a speed",
            Dimension::Rotation => "a speed of rotation",
            Dimension::ResistancePerLength => "a resistance per length",
        }
    }

    /// One value as people write it: `3.6 V`.
    pub fn example(self) -> &'static str {
        match self {
            Dimension::Voltage => "3.6 V",
            Dimension::Resistance => "4.7 kohm",
            Dimension::Current => "12 mA",
            Dimension::Power => "5 W",
            Dimension::Temperature => "85 C",
            Dimension::TemperatureSpan => "5 K",
            Dimension::Pressure => "250 kPa",
            Dimension::Frequency => "120 Hz",
            Dimension::Time => "20 ms",
            Dimension::Length => "3.5 m",
            Dimension::Area => "0.5 mm2",
            Dimension::Angle => "45 deg",
            Dimension::Ratio => "50 %",
            Dimension::Speed => "50 km/h",
            Dimension::Rotation => "3000 rpm",
            Dimension::ResistancePerLength => "12.7 mohm/m",
        }
    }

    /// The unit proposed where someone forgot it: `V`.
    pub const fn usual_unit(self) -> &'static str {
        match self {
            Dimension::Pressure => "kPa",
            Dimension::Area => "mm2",
            Dimension::Ratio => "%",
            Dimension::Speed => "km/h",
            Dimension::ResistancePerLength => "mohm/m",
            _ => self.base_unit(),
        }
    }

    /// The base unit's spelling in machine-readable answers: `V`, `ohm`, `m2`, empty for a ratio.
    pub const fn base_unit(self) -> &'static str {
        match self {
            Dimension::Voltage => "V",
            Dimension::Resistance => "ohm",
            Dimension::Current => "A",
            Dimension::Power => "W",
            Dimension::Temperature => "C",
            Dimension::TemperatureSpan => "K",
            Dimension::Pressure => "Pa",
            Dimension::Frequency => "Hz",
            Dimension::Time => "s",
            Dimension::Length => "m",
            Dimension::Area => "m2",
            Dimension::Angle => "deg",
            Dimension::Ratio => "",
            Dimension::Speed => "m/s",
            Dimension::Rotation => "rpm",
            Dimension::ResistancePerLength => "ohm/m",
        }
    }

    /// The dimension of a difference of two such values: a span for temperatures, itself else.
    pub fn of_difference(self) -> Dimension {
        match self {
            Dimension::Temperature => Dimension::TemperatureSpan,
            other => other,
        }
    }

    /// The least value that makes sense, in base units.
    pub(super) fn floor(self) -> Option<f64> {
        match self {
            Dimension::Resistance
            | Dimension::Frequency
            | Dimension::Time
            | Dimension::Length
            | Dimension::Area
            | Dimension::Speed
            | Dimension::Rotation
            | Dimension::ResistancePerLength => Some(0.0),
            Dimension::Temperature => Some(-273.15),
            _ => None,
        }
    }
}

const fn unit(dimension: Dimension, factor: f64, spellings: &'static [&'static str]) -> Unit {
    scale(dimension, factor, 0.0, spellings)
}

const fn scale(
    dimension: Dimension,
    factor: f64,
    offset: f64,
    spellings: &'static [&'static str],
) -> Unit {
    Unit {
        spellings,
        dimension,
        factor,
        offset,
    }
}

/// Kelvin per degree Fahrenheit, exact by definition.
const FAHRENHEIT: f64 = 5.0 / 9.0;
/// Pascal per pound-force per square inch: 0.45359237 kg x 9.80665 m/s2 / (0.0254 m)2, each exact by definition.
const PSI: f64 = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);

/// Metre per second per kilometre per hour.
const KMH: f64 = 1.0 / 3.6;
/// Metre per second per mile per hour: 1609.344 m in 3600 s, exact by definition.
const MPH: f64 = 1609.344 / 3600.0;

/// Every unit. Where one spelling serves two dimensions, the first row is the one meant when
/// nothing else tells (`C` is a point on the scale, `K` a difference).
pub static UNITS: &[Unit] = &[
    unit(Dimension::Voltage, 1.0, &["V", "volt", "volts"]),
    unit(Dimension::Voltage, 1e-3, &["mV"]),
    unit(Dimension::Voltage, 1e-6, &["µV", "uV"]),
    unit(Dimension::Voltage, 1e3, &["kV"]),
    unit(Dimension::Resistance, 1.0, &["ohm", "ohms", "Ω", "R"]),
    unit(Dimension::Resistance, 1e3, &["kohm", "kohms", "kΩ", "k"]),
    unit(
        Dimension::Resistance,
        1e6,
        &["Mohm", "Mohms", "MΩ", "megohm", "M"],
    ),
    unit(Dimension::Resistance, 1e-3, &["mohm", "mohms", "mΩ"]),
    unit(Dimension::Current, 1.0, &["A", "amp", "amps"]),
    unit(Dimension::Current, 1e-3, &["mA"]),
    unit(Dimension::Current, 1e-6, &["µA", "uA"]),
    unit(Dimension::Power, 1.0, &["W", "watt", "watts"]),
    unit(Dimension::Power, 1e-3, &["mW"]),
    unit(Dimension::Power, 1e3, &["kW"]),
    unit(
        Dimension::Temperature,
        1.0,
        &["C", "°C", "deg C", "degC", "degrees C"],
    ),
    scale(
        Dimension::Temperature,
        FAHRENHEIT,
        -32.0 * FAHRENHEIT,
        &["F", "°F", "deg F", "degF", "degrees F"],
    ),
    unit(
        Dimension::TemperatureSpan,
        1.0,
        &["K", "kelvin", "C", "°C", "deg C", "degC"],
    ),
    unit(
        Dimension::TemperatureSpan,
        FAHRENHEIT,
        &["F", "°F", "deg F", "degF"],
    ),
    scale(Dimension::Temperature, 1.0, -273.15, &["K", "kelvin"]),
    unit(Dimension::Pressure, 1.0, &["Pa"]),
    unit(Dimension::Pressure, 1e2, &["hPa"]),
    unit(Dimension::Pressure, 1e3, &["kPa"]),
    unit(Dimension::Pressure, 1e6, &["MPa"]),
    unit(Dimension::Pressure, 1e5, &["bar"]),
    unit(Dimension::Pressure, 1e2, &["mbar"]),
    unit(Dimension::Pressure, PSI, &["psi"]),
    unit(Dimension::Frequency, 1.0, &["Hz", "hertz"]),
    unit(Dimension::Frequency, 1e3, &["kHz"]),
    unit(Dimension::Frequency, 1e6, &["MHz"]),
    unit(Dimension::Time, 1.0, &["s", "sec", "second", "seconds"]),
    unit(Dimension::Time, 1e-3, &["ms"]),
    unit(Dimension::Time, 1e-6, &["µs", "us"]),
    unit(Dimension::Time, 60.0, &["min", "minute", "minutes"]),
    unit(
        Dimension::Length,
        1.0,
        &["m", "metre", "metres", "meter", "meters"],
    ),
    unit(Dimension::Length, 1e-2, &["cm"]),
    unit(Dimension::Length, 1e-3, &["mm"]),
    unit(Dimension::Length, 0.3048, &["ft", "foot", "feet", "'"]),
    unit(Dimension::Length, 0.0254, &["in", "inch", "inches", "\""]),
    unit(
        Dimension::Area,
        1e-6,
        &["mm2", "mm²", "mm^2", "sq mm", "sqmm"],
    ),
    unit(
        Dimension::Angle,
        1.0,
        &["deg", "°", "degree", "degrees", "degs"],
    ),
    unit(Dimension::Ratio, 1e-2, &["%", "percent", "per cent"]),
    unit(Dimension::Ratio, 1.0, &[""]),
    unit(Dimension::Speed, 1.0, &["m/s"]),
    unit(Dimension::Speed, KMH, &["km/h", "kmh", "kph"]),
    unit(Dimension::Speed, MPH, &["mph"]),
    unit(Dimension::Rotation, 1.0, &["rpm", "1/min", "r/min"]),
    unit(Dimension::ResistancePerLength, 1.0, &["ohm/m", "Ω/m"]),
    unit(
        Dimension::ResistancePerLength,
        1e-3,
        &["mohm/m", "mΩ/m", "ohm/km", "Ω/km"],
    ),
    unit(
        Dimension::ResistancePerLength,
        1.0 / 0.3048,
        &["ohm/ft", "Ω/ft"],
    ),
    unit(
        Dimension::ResistancePerLength,
        1.0 / 304.8,
        &["ohm/1000 ft", "ohm/kft", "Ω/1000 ft"],
    ),
];

/// A spelling with one sign for ohm, one for micro, and single spaces.
fn plain(spelling: &str) -> String {
    spelling
        .trim_end_matches('.')
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace('\u{2126}', "Ω")
        .replace('\u{3bc}', "µ")
        .replace('℃', "°C")
        .replace('℉', "°F")
        .replace('º', "°")
}

/// What a spelling turned out to be.
pub(super) enum Spelled {
    /// A unit of the dimension asked for.
    Unit(&'static Unit),
    /// Nearly a unit: the spelling that was probably meant (`mpa` is `MPa`, `Volz` is `V`).
    Nearly(&'static str),
    /// No unit, and near none.
    Unknown,
}

/// The unit of `dimension` spelled so. Case is forgiven except where it tells milli from mega.
pub(super) fn spelled(spelling: &str, dimension: Dimension) -> Spelled {
    let spelling = plain(spelling);
    let units = || UNITS.iter().filter(|unit| unit.dimension == dimension);
    if let Some(unit) = units().find(|unit| unit.spellings.contains(&spelling.as_str())) {
        return Spelled::Unit(unit);
    }
    let same_but_case = |known: &str| known.eq_ignore_ascii_case(&spelling);
    let mut near = units().filter(|unit| unit.spellings.iter().any(|known| same_but_case(known)));
    match (near.next(), near.next()) {
        (Some(unit), None) if !spelling.starts_with(['m', 'M']) => Spelled::Unit(unit),
        (Some(unit), None) => {
            let meant = unit.spellings.iter().find(|known| same_but_case(known));
            Spelled::Nearly(meant.unwrap_or(&unit.spellings[0]))
        }
        (Some(_), Some(_)) => Spelled::Unknown,
        (None, _) => nearly(&spelling, dimension),
    }
}

/// The unit one slip away; the first letter must stand, so that no prefix is guessed.
fn nearly(spelling: &str, dimension: Dimension) -> Spelled {
    let first = |text: &str| text.chars().next();
    UNITS
        .iter()
        .filter(|unit| unit.dimension == dimension)
        .flat_map(|unit| unit.spellings.iter().map(move |known| (unit, *known)))
        .filter(|(_, known)| known.len() > 2 && first(known) == first(spelling))
        .find(|(_, known)| strsim::osa_distance(spelling, known) == 1)
        .map_or(Spelled::Unknown, |(unit, _)| {
            Spelled::Nearly(unit.spellings[0])
        })
}

/// The first dimension that knows this exact spelling.
pub(super) fn dimension_spelled(spelling: &str) -> Option<Dimension> {
    let spelling = plain(spelling);
    UNITS
        .iter()
        .find(|unit| unit.spellings.contains(&spelling.as_str()))
        .map(|unit| unit.dimension)
}
