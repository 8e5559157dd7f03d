//! Sources of the geometry.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    MEASURES Computed "outer-measures",
        "Sums of the vehicle's measures and what stands out of it, each as the spec gives it; measure the finished van",
        "";
    ANGLES Secondary "49-cfr-523-2-angles",
        "49 CFR 523.2 and ISO 612: approach, departure and breakover angle by the tangent to the static loaded radius of the tyre",
        "quoted";
    USUAL_ANGLES CommonPractice "usual-angles",
        "Angles that clear a kerb, a ferry ramp and a hump: approach 12°, departure 10°, breakover 8°, where the spec asks for no others",
        "";
    ROAD_MEASURES Memory "road-measures",
        "Largest vehicle on the road without a permit: height 4.00 m, width 2.55 m, length 12 m (Directive 96/53/EC); height 13 ft 6 in in most states, width 102 in (23 CFR 658.15)",
        "";
    BOXES Computed "axis-aligned-boxes",
        "Boxes along the axes of the vehicle; joints up to 20 mm are no overlap",
        "";
    USUAL_AISLE CommonPractice "usual-aisle",
        "Aisle one can pass sideways: 350 mm, where the spec asks for no other",
        "";
}
