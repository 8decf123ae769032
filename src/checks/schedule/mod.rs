//! Checks of the schedule: whether rounds, coats, washes and certificates fit together in time.

pub(super) mod apply_before_begins;
pub(super) mod baseline_after_apply;
pub(super) mod batch_opened_after_apply;
pub(super) mod certificate_lapses;
pub(super) mod coats_without_window;
pub(super) mod deciding_round_missing;
pub(super) mod humidity_near_dew_point;
pub(super) mod no_apply_date;
pub(super) mod no_baseline;
pub(super) mod no_certificate;
pub(super) mod no_deciding_measure;
pub(super) mod no_dew_point_margin;
pub(super) mod no_fresh_round;
pub(super) mod no_put_out_date;
pub(super) mod no_rounds_after_apply;
pub(super) mod put_out_before_apply;
pub(super) mod put_out_before_cure;
pub(super) mod round_before_begins;
pub(super) mod round_before_cure;
pub(super) mod rounds_collide;
pub(super) mod rounds_run_backwards;
pub(super) mod second_coat_outside_window;
mod water;
pub(super) mod wash_just_before_reading;
pub(super) mod water_before_dry;
pub(super) mod when;
