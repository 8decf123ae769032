//! How numbers, dates and amounts are printed: the one place that rounds.

use super::material::Material;
use crate::analysis::{Analysis, Compared, RoundAnalysis};
use crate::speech::{self, say};
use crate::study::{MeasureId, Study};
use crate::units;
use jiff::civil::Date;
use serde::Serialize;
use std::borrow::Cow;

/// What stands where nothing was measured.
pub(super) const DASH: &str = "–";

/// A number as it is and as it is printed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figure {
    /// The number, not rounded, in the unit of the text.
    pub raw: Option<f64>,
    /// As it is printed; a dash where there is none.
    pub text: String,
}

impl Figure {
    /// A dash.
    pub fn none() -> Self {
        Self { raw: None, text: DASH.to_owned() }
    }

    /// A dash with the reason in brackets.
    pub fn absent(why: &str) -> Self {
        Self { raw: None, text: format!("{DASH} ({why})") }
    }
}

impl From<&str> for Figure {
    fn from(text: &str) -> Self {
        Self { raw: None, text: text.to_owned() }
    }
}

impl From<Cow<'_, str>> for Figure {
    fn from(text: Cow<'_, str>) -> Self {
        Self { raw: None, text: text.into_owned() }
    }
}

impl From<String> for Figure {
    fn from(text: String) -> Self {
        Self { raw: None, text }
    }
}

/// How the values of one measure are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Style<'a> {
    /// Decimals.
    pub decimals: usize,
    /// The fewest that tell levels apart, however little a standard error carries; 0 where a limit says how finely.
    pub apart: usize,
    /// Symbol of the unit.
    pub unit: &'a str,
}

impl<'a> Style<'a> {
    /// The style of a measure: fine enough that rounding moves nothing by more than a fortieth of the
    /// alike limit or an eighth of the gauge's limit for two readings. Where neither is stated, as fine as the readings were
    /// written, and never so coarse that levels print alike; marks have one decimal.
    pub(super) fn of(material: &Material<'a>, id: MeasureId) -> Self {
        Self::by(material.study, material.analysis, id)
    }

    /// The same where there is no more than a study and its numbers.
    pub(super) fn by(study: &'a Study, analysis: &Analysis, id: MeasureId) -> Self {
        let measure = study.measure(id);
        let gauge = study.gauges_of(id).find_map(|gauge| gauge.agreement.as_ref());
        let step = match (&measure.alike, gauge) {
            (Some(alike), _) => Some(alike.value / 20.0),
            (None, Some(agreement)) => Some(agreement.value.limit().value / 4.0),
            (None, None) => None,
        };
        let read = analysis.measure(id).and_then(|of| of.fineness);
        let (decimals, apart) = match (step, read) {
            (Some(step), _) => (decimals_of(step), 0),
            (None, Some(read)) => (usize::from(read.decimals), usize::from(read.apart)),
            (None, None) => (1, 0),
        };
        Self { decimals, apart, unit: speech::unit(&measure.unit.symbol) }
    }

    /// The style of means, and of their differences, at a round.
    pub(super) fn at(material: &Material<'a>, id: MeasureId, round: &RoundAnalysis) -> Self {
        Self::of(material, id).as_sure_as(round.standard_error())
    }

    /// With no more decimals than a standard error of its means carries, unless levels would print alike.
    pub(super) fn as_sure_as(self, standard: Option<f64>) -> Self {
        let Some(standard) = standard else { return self };
        Self { decimals: self.decimals.min(decimals_carried(standard).max(self.apart)), ..self }
    }

    /// The unit of differences.
    pub(super) fn difference_unit(self) -> &'a str {
        difference_unit(self.unit)
    }

    /// The number alone.
    pub(super) fn bare(self, value: f64) -> String {
        fixed(value, self.decimals)
    }

    /// The number with its unit.
    pub(super) fn value(self, value: f64) -> Figure {
        Figure { raw: Some(value), text: with_unit(&self.bare(value), self.unit) }
    }

    /// The number without its unit, for columns that name the unit in their head.
    pub(super) fn cell(self, value: f64) -> Figure {
        Figure { raw: Some(value), text: self.bare(value) }
    }

    /// The number with its sign, for differences.
    pub(super) fn signed(self, value: f64) -> String {
        signed(value, self.decimals)
    }

    /// An end of an interval of differences. One that is not zero never prints as zero, since readers look there whether
    /// the interval leaves out zero.
    pub(super) fn end(self, value: f64) -> String {
        end(value, self.decimals)
    }

    /// A number that is compared: a change with its sign, a level without.
    pub(super) fn compared(self, value: f64, by: Compared) -> Figure {
        let text = match by {
            Compared::Change => self.signed(value),
            Compared::Level => self.bare(value),
        };
        Figure { raw: Some(value), text }
    }

    /// `from ... to ...` of an interval of differences, without unit.
    pub(super) fn span(self, low: f64, high: f64) -> String {
        match (low.is_finite(), high.is_finite()) {
            (true, true) => {}
            (true, false) => return at_least(&self.end(low)),
            (false, true) => return at_most(&self.end(high)),
            (false, false) => return DASH.to_owned(),
        }
        say!("{low} to {high}", low = self.end(low), high = self.end(high))
    }
}

/// A number as the lower end of what it may be. The sign is short enough for a column of a round.
pub(super) fn at_least(number: &str) -> String {
    format!("≥ {number}")
}

/// A number as the upper end of what it may be.
pub(super) fn at_most(number: &str) -> String {
    format!("≤ {number}")
}

/// What the difference of two numbers is counted in: that of two percents in percentage points, so that nobody takes it for
/// a share of one of them.
pub(super) fn difference_unit(unit: &str) -> &str {
    if unit == "%" { say!("percentage points") } else { unit }
}

fn decimals_of(step: f64) -> usize {
    if step.is_nan() || step <= 0.0 {
        return 1;
    }
    // One tenth of a step is exactly representable by that many decimals; the small number keeps
    // 0.1 from asking for two.
    (0..4_u8).find(|&n| 10f64.powi(-i32::from(n)) <= step * (1.0 + 1e-9)).map_or(4, usize::from)
}

/// Up to the first figure of a standard error, or one more where that is 1 or 2 (DIN 1333:1992, from memory), so that 80.2 with a standard
/// error of 3 is 80. That is never more than two figures of it. Tens are not rounded away.
fn decimals_carried(standard: f64) -> usize {
    let first = |places: &i32| standard * 10f64.powi(*places) >= 1.0 - 1e-9;
    let Some(places) = (0..6).find(first) else { return 6 };
    let figure = standard * 10f64.powi(places);
    // Of 10 and more the first figure lies before the units.
    let more = (places > 0 || figure < 10.0) && figure < 3.0 - 1e-9;
    (places + i32::from(more)).unsigned_abs() as usize
}

/// A number with its unit; a percent sign stands apart as well.
pub(super) fn with_unit(number: &str, unit: &str) -> String {
    match speech::unit(unit) {
        "" => number.to_owned(),
        "°" => format!("{number}°"),
        unit => format!("{number} {unit}"),
    }
}

/// A number with so many decimals and a true minus sign. Minus zero prints as zero.
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = speech::marked(&format!("{value:.decimals$}"));
    match text.strip_prefix('-') {
        Some(rest) if is_zero(rest) => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

fn is_zero(text: &str) -> bool {
    text.bytes().all(|byte| matches!(byte, b'0' | b'.' | b','))
}

/// A number as short as it is.
pub(super) fn decimal(value: f64) -> String {
    speech::marked(&units::decimal(value))
}

/// The same with a plus sign in front of what is above zero.
pub(super) fn signed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if value > 0.0 && !is_zero(&text) { format!("+{text}") } else { text }
}

/// The same with as many more decimals, three at most, as the first figure of what is not zero needs.
fn end(value: f64, decimals: usize) -> String {
    let shown = |text: &String| text.bytes().any(|byte| matches!(byte, b'1'..=b'9'));
    let finer = (decimals..=decimals + 3).map(|finer| signed(value, finer)).find(shown);
    finer.unwrap_or_else(|| signed(value, decimals))
}

/// The most that something comes to, rounded up so that it stays the most; of what is not zero a figure is shown, three more decimals at most.
pub(super) fn most(value: f64, decimals: usize) -> String {
    let up = |decimals: usize| {
        let tens: f64 = (0..decimals).map(|_| 10.0).product();
        (value * tens - 1e-9).ceil() / tens
    };
    let coarse =
        |decimals: &usize| value <= 0.0 || value * (0..*decimals).map(|_| 10.0).product::<f64>() >= 1.0;
    let decimals = (decimals..decimals + 3).find(coarse).unwrap_or(decimals + 3);
    fixed(up(decimals), decimals)
}

/// A probability: three decimals, never 0.
pub(super) fn probability(p: f64) -> String {
    if p < 0.001 { say!("below {p}", p = fixed(0.001, 3)) } else { fixed(p, 3) }
}

/// A chance between 0 and 1 as whole percent; never 0 % or 100 %, since no number of draws can show that.
pub(super) fn share(chance: f64) -> String {
    match chance {
        c if c <= 0.005 => say!("below 1 %").to_owned(),
        c if c >= 0.995 => say!("above 99 %").to_owned(),
        c => format!("{} %", fixed(100.0 * c, 0)),
    }
}

/// A count with a gap before its thousands: `20 000`.
pub(super) fn grouped(n: u32) -> String {
    if n < 10_000 { n.to_string() } else { format!("{} {:03}", n / 1000, n % 1000) }
}

/// Degrees of freedom: whole where they are whole.
pub(super) fn degrees(df: f64) -> String {
    match df.round() {
        whole if (df - whole).abs() > 1e-9 => say!("{n} degrees of freedom", n = fixed(df, 1)),
        one if (one - 1.0).abs() < 1e-9 => say!("1 degree of freedom").to_owned(),
        whole => say!("{n} degrees of freedom", n = fixed(whole, 0)),
    }
}

/// Money: two decimals.
pub(super) fn money(value: f64, unit: &str) -> String {
    with_unit(&fixed(value, 2), unit)
}

/// A quantity or range as the study writes it.
pub(super) fn amount(quantity: &impl std::fmt::Display) -> String {
    speech::quantity(&quantity.to_string())
}

/// An amount to measure out, in as few figures as move it by 1 % at most. Two decimals are the finest that a
/// 1 ml syringe and a small scale read; what is less than they tell is said to be.
pub(super) fn dose(value: f64, unit: &str) -> String {
    let amount = measured(value);
    if amount == 0.0 && value > 0.0 {
        say!("below {least} {unit}", unit, least = fixed(0.01, 2))
    } else {
        with_unit(&decimal(amount), unit)
    }
}

/// The amount that [`dose`] prints, which is what is measured out; so a sum of several is what they are together.
pub(super) fn measured(value: f64) -> f64 {
    let rounded = |decimals: i32| (value * 10f64.powi(decimals)).round() / 10f64.powi(decimals);
    let near = |decimals: &i32| (rounded(*decimals) - value).abs() <= value.abs() / 100.0;
    rounded((0..2).find(near).unwrap_or(2))
}

/// A length in mm as short as it is.
pub(super) fn mm(value: f64) -> String {
    decimal((value * 100.0).round() / 100.0)
}

/// A day as it is written everywhere.
pub(super) fn day(date: Date) -> String {
    speech::day(date)
}

/// A length of time to the nearest week from 8 weeks on, else in days: one day is one number of weeks, wherever it stands.
pub(super) fn days(days: i64) -> String {
    if days.abs() >= FROM_WEEKS {
        say!("{weeks} weeks", weeks = weeks(days))
    } else if days == 1 {
        say!("1 day").to_owned()
    } else {
        say!("{days} days", days)
    }
}

/// A stretch of time in one unit: weeks, to the nearest, where it ends after 8 weeks or later and they tell its ends apart, else days.
pub(super) fn days_between(from: i64, to: i64) -> String {
    if to >= FROM_WEEKS && weeks(from) < weeks(to) {
        say!("{from} to {to} weeks", from = weeks(from), to = weeks(to))
    } else {
        say!("{from} to {to} days", from, to)
    }
}

/// From so many days on a time is told in weeks.
const FROM_WEEKS: i64 = 56;

fn weeks(days: i64) -> i64 {
    (days + 3).div_euclid(7)
}

#[cfg(test)]
mod tests {
    use super::{
        days, days_between, decimals_carried, decimals_of, dose, end, fixed, grouped, probability, share,
        signed,
    };

    #[test]
    fn a_stretch_of_time_has_one_unit() {
        assert_eq!(days_between(31, 98), "4 to 14 weeks");
        assert_eq!(days_between(31, 55), "31 to 55 days");
        assert_eq!(days_between(3, 57), "0 to 8 weeks");
        assert_eq!(days_between(211, 213), "211 to 213 days");
    }

    /// Two stretches that meet on a day meet in the number that stands for it.
    #[test]
    fn a_day_is_one_number_of_weeks() {
        assert_eq!(
            (days_between(364, 451), days_between(451, 546)),
            ("52 to 64 weeks".into(), "64 to 78 weeks".into())
        );
        assert_eq!(
            (days(451), days(452), days(56)),
            ("64 weeks".into(), "65 weeks".into(), "8 weeks".into())
        );
    }

    #[test]
    fn numbers_print_with_a_true_minus_and_no_minus_zero() {
        assert_eq!(fixed(-2.14, 1), "−2.1");
        assert_eq!(fixed(-0.04, 1), "0.0");
        assert_eq!(signed(0.04, 1), "0.0");
        assert_eq!(signed(3.0, 1), "+3.0");
        assert_eq!(probability(0.000_2), "below 0.001");
    }

    #[test]
    fn an_end_that_is_not_zero_does_not_print_as_zero() {
        let ends = [(0.04, "+0.04"), (-0.013, "−0.01"), (0.06, "+0.1"), (-2.31, "−2.3"), (0.0004, "+0.0004")];
        for (value, text) in ends {
            assert_eq!(end(value, 1), text);
        }
        // What is but the rounding of the arithmetic is zero.
        assert_eq!((end(0.0, 1).as_str(), end(1e-9, 1).as_str()), ("0.0", "0.0"));
    }

    #[test]
    fn chances_are_whole_percent_and_never_pretend_certainty() {
        let texts = ["below 1 %", "below 1 %", "1 %", "50 %", "99 %", "above 99 %", "above 99 %"];
        assert_eq!([0.0, 0.005, 0.006, 0.5, 0.994, 0.995, 1.0].map(share), texts);
        assert_eq!([999, 9_999, 20_000].map(grouped), ["999", "9999", "20 000"]);
    }

    #[test]
    fn decimals_follow_the_limit() {
        let steps = [2.0 / 20.0, 0.5 / 20.0, 5.0 / 20.0, 40.0 / 20.0, 0.0];
        assert_eq!(steps.map(decimals_of), [1, 2, 1, 0, 1]);
    }

    /// By hand: the first figure of 3.1, 0.31 and 0.95 stands where they are rounded; of 1 and 2 one more.
    #[test]
    fn decimals_end_with_the_standard_error() {
        let errors = [31.0, 14.0, 9.6, 3.1, 2.9, 1.0, 0.95, 0.31, 0.25, 0.1, 0.04, 0.012];
        assert_eq!(errors.map(decimals_carried), [0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 3]);
    }

    #[test]
    fn amounts_have_as_few_figures_as_move_them_by_a_hundredth() {
        let amounts = [1000.0 / 201.0, 1000.0 / 21.0, 0.702, 0.374, 1.04, 0.004];
        let texts = ["5 ml", "48 ml", "0.7 ml", "0.37 ml", "1.04 ml", "below 0.01 ml"];
        assert_eq!(amounts.map(|amount| dose(amount, "ml")), texts);
        assert_eq!(dose(0.0, "g"), "0 g");
    }
}
