//! Sources of compressed air.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    BOYLE Computed "boyle",
        "Boyle's law at one temperature: free air for N tyres = N · V · (p2 − p1) / p0, p0 = 101.325 kPa; the compressor's free air delivery is taken at the filling pressure",
        "";
    DUTY CommonPractice "compressor-duty",
        "Duty limit and longest run of the compressor by its maker; the time with pauses is the running time over the duty",
        "";
}
