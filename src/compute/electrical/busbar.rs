//! Current a busbar has to carry.

use super::positive;
use crate::units::{Amps, Ratio};
use serde::Serialize;

/// One connection of a busbar. A bank may feed it and be charged from it, so both directions count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Member {
    /// Most that may flow into the bar.
    pub into: Amps,
    /// Most that may flow out of it.
    pub out_of: Amps,
}

/// Loading of a busbar.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BusLoading {
    /// Sum of all that may flow in.
    pub into: Amps,
    /// Sum of all that may flow out.
    pub out_of: Amps,
    /// What the bar has to carry: the smaller of the two.
    pub carried: Amps,
    /// Share of its rating; `None` without a rating.
    pub share: Option<Ratio>,
}

/// Worst loading of a busbar, whatever runs together. The order of the connections is left out: a bar with its source
/// in the middle is loaded less. Source: [`crate::tables::sources::BUSBAR`].
#[must_use]
pub fn loading(members: &[Member], rating: Option<Amps>) -> BusLoading {
    let into: Amps = members.iter().map(|m| m.into).sum();
    let out_of: Amps = members.iter().map(|m| m.out_of).sum();
    let carried = into.min(out_of);
    let share = rating.and_then(|rating| positive(rating.0)).map(|rating| Ratio(carried.0 / rating));
    BusLoading { into, out_of, carried, share }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_carries_no_more_than_flows_in_or_out() {
        let member = |into, out_of| Member { into: Amps(into), out_of: Amps(out_of) };
        // A bank that gives 250 A and takes 200 A, a charger of 50 A, an inverter of 200 A, a panel of 60 A.
        let members = [member(250.0, 200.0), member(50.0, 0.0), member(0.0, 200.0), member(0.0, 60.0)];
        let got = loading(&members, Some(Amps(600.0)));
        assert_eq!((got.into, got.out_of, got.carried), (Amps(300.0), Amps(460.0), Amps(300.0)));
        assert_eq!(got.share, Some(Ratio(0.5)));
        assert_eq!(loading(&members, None).share, None);
        assert_eq!(loading(&[], Some(Amps(0.0))).carried, Amps(0.0));
        assert_eq!(loading(&[], Some(Amps(0.0))).share, None);
    }
}
