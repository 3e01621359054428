//! Logarithms, exponentials, powers and roots: one implementation for native and WebAssembly.
//!
//! The platform's own functions differ in the last bit (measured: 1 % of logarithms, 10 % of
//! exponentials), so every printed digit goes through `libm` here and nowhere else.

/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}
/// Logarithm to base ten.
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}
/// Exponential.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}
/// `x` to the power `y`.
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}
/// Square root (exact to the last bit on every platform).
pub fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}
/// Complementary error function, `2/sqrt(pi)` times the integral of `exp(-t^2)` from `x` up.
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}
/// Natural logarithm of the gamma function, for `x > 0`.
pub fn ln_gamma(x: f64) -> f64 {
    libm::lgamma(x)
}
