//! Shares of suspects in whole percent that sum to a hundred.

/// Each share in words, `12%`, `<1%` for a rounded nothing; shares that sum to one give percents that sum to a
/// hundred: what rounding down leaves over goes where most was cut off.
pub fn in_percent(shares: &[f64]) -> Vec<String> {
    let exact: Vec<f64> = shares.iter().map(|share| share * 100.0).collect();
    let mut whole: Vec<f64> = exact.iter().map(|percent| percent.floor()).collect();
    let mut by_rest: Vec<usize> = (0..shares.len()).collect();
    by_rest.sort_unstable_by(|a, b| {
        let rest = |at: usize| exact[at] - whole[at];
        rest(*b).total_cmp(&rest(*a)).then(a.cmp(b))
    });
    let over = exact.iter().sum::<f64>().round() - whole.iter().sum::<f64>();
    for (place, at) in by_rest.into_iter().enumerate() {
        if (place as f64) < over {
            whole[at] += 1.0;
        }
    }
    let written = whole.into_iter().map(|percent| {
        if percent < 1.0 {
            "<1%".to_owned()
        } else {
            format!("{percent}%")
        }
    });
    written.collect()
}
