//! Checks of what holds heavy things, and of gas struts.

mod restraint_too_weak;
mod restraint_unknown;
mod strut_does_not_fit;
mod strut_not_computed;
mod strut_too_strong;
mod strut_too_weak;
mod tie_down_over_rating;

crate::checks::checks! {
    restraint_too_weak
    restraint_unknown
    strut_does_not_fit
    strut_not_computed
    strut_too_strong
    strut_too_weak
    tie_down_over_rating
}
