//! How many conductors of a bundle count for the factor of those that lie together.

use crate::units::{Amps, Ratio};

/// A conductor that carries current beside others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loaded {
    /// What it carries.
    pub load: Amps,
    /// What it could carry where it lies, by itself.
    pub alone: Amps,
}

/// For each conductor of `bundle` the number that counts for it, itself included.
///
/// One that carries no more than `idle` of what it may among all the others hardly warms them and is left out of their
/// count; where the rules know of no such share, all count. `factor` is the share of its ampacity left to each of a
/// number of conductors. Source: [`crate::tables::sources::IEC_IDLE_SHARE`].
#[must_use]
pub fn counts(bundle: &[Loaded], idle: Option<Ratio>, factor: impl Fn(u32) -> Ratio) -> Vec<u32> {
    let all = u32::try_from(bundle.len()).unwrap_or(u32::MAX);
    let among_all = factor(all);
    let warms =
        |c: &Loaded| idle.is_none_or(|idle| c.load.0 > idle.0 * among_all.0 * c.alone.0 || !c.load.0.is_finite());
    let warm = bundle.iter().filter(|c| warms(c)).count();
    let warm = u32::try_from(warm).unwrap_or(u32::MAX);
    bundle.iter().map(|c| if warms(c) { warm } else { warm.saturating_add(1) }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::iec60364_factors::grouping;

    const IDLE_SHARE: Ratio = Ratio(0.3);

    fn conductor(load: f64, alone: f64) -> Loaded {
        Loaded { load: Amps(load), alone: Amps(alone) }
    }

    /// IEC 60364-5-52: at most 30 % of the grouped rating. Six conductors, three circuits, keep 0.7 (B.52.17): of 23 A
    /// that are 16.1 A, of which 30 % are 4.83 A.
    #[test]
    fn idle_conductors_are_left_out_of_the_count_of_the_others() {
        let bundle = [4.82, 4.82, 4.84, 4.84, 16.0, 16.0].map(|load| conductor(load, 23.0));
        assert_eq!(
            counts(&bundle, Some(IDLE_SHARE), grouping),
            [5, 5, 4, 4, 4, 4],
            "one that is idle counts for itself"
        );
        assert_eq!(counts(&bundle, None, grouping), [6; 6], "rules without such a note");
        assert_eq!(counts(&[], Some(IDLE_SHARE), grouping), [] as [u32; 0]);
        // What nobody knows warms the others.
        assert_eq!(counts(&[conductor(f64::NAN, 23.0), conductor(1.0, 23.0)], Some(IDLE_SHARE), grouping), [1, 2]);
        assert_eq!(counts(&[conductor(1.0, 0.0), conductor(1.0, 23.0)], Some(IDLE_SHARE), grouping), [1, 2]);
    }
}
