//! The clock of the machine. No document tells what it says, but the writer of workbooks looks at it all the same.

use std::time::SystemTime;

/// Why nothing can be made at this time; `None` where all can.
pub(super) fn fault(now: SystemTime) -> Option<String> {
    let why = "the clock of this machine stands before 1970, and the writer of workbooks knows no such time";
    now.duration_since(SystemTime::UNIX_EPOCH).err().map(|_| format!("{why}; set it, then compile again"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[test]
    #[expect(clippy::disallowed_methods, reason = "this machine's clock is one that goes")]
    fn a_clock_that_stands_too_early_is_told() {
        let epoch = SystemTime::UNIX_EPOCH;
        let before = epoch.checked_sub(Duration::from_nanos(1)).expect("a time");
        assert!(fault(before).is_some_and(|told| told.contains("set it")));
        assert!(fault(epoch).is_none() && fault(SystemTime::now()).is_none());
    }
}
