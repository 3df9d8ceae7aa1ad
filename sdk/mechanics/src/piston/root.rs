/// Root of a falling function between two ends, to a width and a value; the end nearer to it when it has none between them.
///
/// Secants with the stale end halved (Illinois), each third step a halving of the bracket, so that it always closes.
pub(crate) fn falling_root(
    (mut low, mut high): (f64, f64),
    (width, value): (f64, f64),
    f: impl Fn(f64) -> f64,
) -> f64 {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low <= 0.0 {
        return low;
    }
    if at_high >= 0.0 {
        return high;
    }
    let mut stale = 0;
    for step in 1..=MOST_STEPS {
        let middle = if step % 3 == 0 {
            0.5 * (low + high)
        } else {
            low + (high - low) * at_low / (at_low - at_high)
        };
        let found = f(middle);
        if found.abs() < value || high - low < width {
            return middle;
        }
        if found > 0.0 {
            (low, at_low) = (middle, found);
            if stale > 0 {
                at_high *= 0.5;
            }
            stale = 1;
        } else {
            (high, at_high) = (middle, found);
            if stale < 0 {
                at_low *= 0.5;
            }
            stale = -1;
        }
    }
    0.5 * (low + high)
}

const MOST_STEPS: u32 = 120;

#[cfg(test)]
mod tests {
    use super::falling_root;

    #[test]
    fn roots_are_found_however_bent_the_function() {
        let find = |f: fn(f64) -> f64| falling_root((-4.0, 9.0), (1e-12, 1e-12), f);
        assert!((find(|x| 2.0 - x) - 2.0).abs() < 1e-9);
        assert!((find(|x| (-3.0 * x).exp() - 0.5) - 2.0_f64.ln() / 3.0).abs() < 1e-9);
        assert!((find(|x| if x < 1.25 { 1.0 } else { -1e-6 }) - 1.25).abs() < 1e-9);
        assert!((find(|x| x - 100.0) + 4.0).abs() < 1e-12);
        assert!((find(|x| 100.0 - x) - 9.0).abs() < 1e-12);
    }
}
