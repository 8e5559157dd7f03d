//! Checks of alarms, extinguishers, gas lockers, beds, seats and ways out.

mod alarm_expired;
mod beds_too_few;
mod co_alarm_missing;
mod control_out_of_reach;
mod escape_route_beyond_cut_out;
mod escape_route_blocked;
mod escape_route_missing;
mod escape_route_too_small;
mod evidence_missing;
mod extinguisher_far_from_exit;
mod extinguisher_missing;
mod lpg_alarm_missing;
mod lpg_locker_missing;
mod people;
mod smoke_alarm_missing;

crate::checks::checks! {
    alarm_expired
    beds_too_few
    co_alarm_missing
    control_out_of_reach
    escape_route_beyond_cut_out
    escape_route_blocked
    escape_route_missing
    escape_route_too_small
    evidence_missing
    extinguisher_far_from_exit
    extinguisher_missing
    lpg_alarm_missing
    lpg_locker_missing
    smoke_alarm_missing
}
