//! Standard sizes of conductors with their largest resistance at 20 °C.
//!
//! In: a standard and an area. Out: the row of its table. The tables are never mixed: 1.5 mm² is 13.3
//! ohm/km in one standard and 12.7 in another.

/// A row of a standard's table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Size {
    /// Nominal area, mm².
    pub(super) mm2: f64,
    /// Largest resistance at 20 °C, ohm per km.
    pub(super) ohm_per_km: f64,
    /// Whether the value was seen in a text that quotes the standard; else it is from memory.
    pub(super) is_confirmed: bool,
}

/// Whose table of sizes is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standard {
    /// A solid round conductor by its area; wire gauges by the diameters of ASTM B258.
    Solid,
    /// Road vehicle cable.
    Iso6722,
    /// Flexible cable, plain copper.
    Iec60228,
    /// Flexible cable, tinned copper.
    Iec60228Tinned,
}

impl Standard {
    /// The standard that an input's word names.
    pub(super) fn named(word: &str) -> Option<Standard> {
        match word {
            "solid" => Some(Standard::Solid),
            "iso-6722" => Some(Standard::Iso6722),
            "iec-60228" => Some(Standard::Iec60228),
            "iec-60228-tinned" => Some(Standard::Iec60228Tinned),
            _ => None,
        }
    }

    /// For people.
    pub(super) fn title(self) -> &'static str {
        match self {
            Standard::Solid => "solid conductor by area",
            Standard::Iso6722 => "ISO 6722",
            Standard::Iec60228 => "IEC 60228 class 5, plain copper",
            Standard::Iec60228Tinned => "IEC 60228 class 5, tinned copper",
        }
    }

    /// Its table, thinnest first; empty for a solid conductor, whose size may be any.
    pub(super) fn sizes(self) -> &'static [Size] {
        match self {
            Standard::Solid => &[],
            Standard::Iso6722 => ISO_6722,
            Standard::Iec60228 => IEC_60228,
            Standard::Iec60228Tinned => IEC_60228_TINNED,
        }
    }

    /// The row of an area in square metres.
    pub(super) fn size(self, area: f64) -> Option<&'static Size> {
        let mm2 = area * 1e6;
        let mut rows = self.sizes().iter();
        rows.find(|row| (row.mm2 - mm2).abs() < 1e-6 * row.mm2)
    }
}

const fn seen(mm2: f64, ohm_per_km: f64) -> Size {
    Size {
        mm2,
        ohm_per_km,
        is_confirmed: true,
    }
}

const fn remembered(mm2: f64, ohm_per_km: f64) -> Size {
    Size {
        mm2,
        ohm_per_km,
        is_confirmed: false,
    }
}

/// ISO 6722, copper, 20 °C. Seen: a German page quoting DIN ISO 6722 part 3. The others from memory of
/// ISO 6722-1, not confirmed; 0.13, 5 and 30 mm² fall outside the usual ratio to solid copper and are
/// the first to doubt, and 0.35 mm² is also quoted as 52.0.
#[allow(clippy::approx_constant)] // 6 mm² has 3.14 ohm per km, which is no pi.
const ISO_6722: &[Size] = &[
    remembered(0.13, 136.0),
    remembered(0.22, 84.8),
    remembered(0.35, 54.4),
    remembered(0.5, 37.1),
    remembered(0.75, 24.7),
    seen(1.0, 18.5),
    remembered(1.25, 14.9),
    seen(1.5, 12.7),
    remembered(2.0, 9.42),
    seen(2.5, 7.6),
    remembered(3.0, 6.15),
    seen(4.0, 4.71),
    remembered(5.0, 3.94),
    seen(6.0, 3.14),
    remembered(8.0, 2.38),
    seen(10.0, 1.82),
    remembered(12.0, 1.52),
    seen(16.0, 1.16),
    remembered(20.0, 0.955),
    seen(25.0, 0.743),
    remembered(30.0, 0.647),
    seen(35.0, 0.527),
    remembered(40.0, 0.473),
    seen(50.0, 0.368),
    remembered(60.0, 0.315),
    seen(70.0, 0.259),
    seen(95.0, 0.196),
    seen(120.0, 0.153),
];

/// IEC 60228 table 3, class 5, plain copper, 20 °C.
const IEC_60228: &[Size] = &[
    seen(0.5, 39.0),
    seen(0.75, 26.0),
    seen(1.0, 19.5),
    seen(1.5, 13.3),
    seen(2.5, 7.98),
    seen(4.0, 4.95),
    seen(6.0, 3.30),
    seen(10.0, 1.91),
    seen(16.0, 1.21),
    seen(25.0, 0.780),
    seen(35.0, 0.554),
    seen(50.0, 0.386),
    seen(70.0, 0.272),
    seen(95.0, 0.206),
    seen(120.0, 0.161),
];

/// IEC 60228 table 3, class 5, metal-coated copper, 20 °C.
const IEC_60228_TINNED: &[Size] = &[
    seen(0.5, 40.1),
    seen(0.75, 26.7),
    seen(1.0, 20.0),
    seen(1.5, 13.7),
    seen(2.5, 8.21),
    seen(4.0, 5.09),
    seen(6.0, 3.39),
    seen(10.0, 1.95),
    seen(16.0, 1.24),
    seen(25.0, 0.795),
    seen(35.0, 0.565),
    seen(50.0, 0.393),
    seen(70.0, 0.277),
    seen(95.0, 0.210),
    seen(120.0, 0.164),
];
