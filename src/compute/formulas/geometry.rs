//! Formulas of geometry.

super::formulas! {
    /// Overall height.
    OVERALL_HEIGHT "overall-height", "Overall height", "H = H_0 + lift + max h_k",
        [("H_0", "vehicle without anything on its roof"), ("k", "highest item")], [MEASURES];
    /// Overall length.
    OVERALL_LENGTH "overall-length", "Overall length", "L = L_0 + max front overhang + max rear overhang",
        [("L_0", "empty vehicle"), ("k", "item that reaches furthest")], [MEASURES];
    /// Overall width.
    OVERALL_WIDTH "overall-width", "Overall width without mirrors", "B = B_0 + max left + max right",
        [("B_0", "body"), ("k", "item that reaches furthest")], [MEASURES];
    /// Approach angle.
    APPROACH "approach-angle", "Approach angle", "α = atan2(h − r, a) + asin(r / √(a² + (h − r)²))",
        [("x", "point, aft of the front axle"), ("h", "its height"), ("r", "static loaded radius"), ("k", "item"), ("a", "distance of the point from the axle")], [ANGLES];
    /// Departure angle.
    DEPARTURE "departure-angle", "Departure angle", "α = atan2(h − r, a) + asin(r / √(a² + (h − r)²))",
        [("x", "point, aft of the front axle"), ("h", "its height"), ("r", "static loaded radius"), ("k", "item"), ("a", "distance of the point from the axle")], [ANGLES];
    /// Breakover angle.
    BREAKOVER "breakover-angle", "Breakover angle", "β = α_front + α_rear",
        [("x", "point, aft of the front axle"), ("h", "its height"), ("r", "static loaded radius"), ("k", "item"), ("α", "as above, of the point from either axle")], [ANGLES];
    /// Narrowest aisle.
    AISLE "aisle", "Narrowest aisle", "b = y_left − y_right",
        [("l", "place on the left"), ("r", "place on the right")], [BOXES];
}
