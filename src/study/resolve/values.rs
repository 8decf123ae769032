//! Numbers, quantities, dates and mixes: from what was written to typed values, each fault found at its place.

use super::Resolver;
use crate::diag::Finding;
use crate::study::{MeasureUnit, Mix};
use crate::syntax::{Arg, Args, Num, Quantity, Value};
use crate::text::{Located, Span};
use crate::units::{self, AnyQuantity, Dimension, Kind, NumberFault, Range, Temperature, UnitRef};
use jiff::civil::{Date, Time as ClockTime};

/// Between which temperatures work is done, degC. Common practice, no source.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sense {
    what: &'static str,
    low_c: f64,
    high_c: f64,
}

/// Air at the panel.
pub(super) const AIR: Sense = Sense { what: "air", low_c: -40.0, high_c: 60.0 };
/// A surface in the sun may be warmer than any air.
pub(super) const SURFACE: Sense = Sense { what: "a surface", low_c: -40.0, high_c: 120.0 };

/// The most that is counted: readings of a section, coats, pieces. More is a slip of the finger.
const MOST_OF_ALL: u32 = 1000;

/// The most of a kind that a study has, in the unit and as it is told. Common practice, no source.
const MOST: &[(Dimension, f64, &str)] = &[
    (Dimension::Length, 1e5, "100 m"),
    (Dimension::Time, 100.0 * 365.2425 * 86_400.0, "100 years"),
    (Dimension::Volume, 1e6, "1000 l"),
    (Dimension::Mass, 1e6, "1000 kg"),
    (Dimension::Money, 1e9, "1000000000"),
    (Dimension::VolumePerArea, 1e5, "100000 ml per m2"),
    (Dimension::MassPerArea, 1e5, "100000 g per m2"),
    (Dimension::Density, 20.0, "20 g per ml"),
];

/// The years in which a study may lie; others are slips of the finger.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=2200;

impl Resolver<'_> {
    pub(super) fn number(&mut self, number: &Num) -> Option<f64> {
        match units::read_number(&number.value) {
            Ok(value) => Some(value),
            Err(NumberFault::Comma) => {
                self.findings.push(comma(number));
                None
            }
            Err(NumberFault::NotANumber) => {
                let message = format!("`{}` is not a number that can be used", number.value);
                self.findings.push(
                    Finding::error("not-a-number", number.span, message).help("write it as `12` or `12.5`"),
                );
                None
            }
        }
    }

    /// A whole number from `least` to [`MOST_OF_ALL`].
    pub(super) fn whole(&mut self, number: Located<&str>, least: u32) -> Option<u32> {
        self.whole_within(number, least, MOST_OF_ALL)
    }

    /// A whole number from `least` to `most`.
    pub(super) fn whole_within(&mut self, number: Located<&str>, least: u32, most: u32) -> Option<u32> {
        match number.value.parse::<u32>() {
            Ok(value) if (least..=most).contains(&value) => Some(value),
            _ => {
                let message = format!("`{}` is not a whole number from {least} to {most}", number.value);
                self.findings.push(
                    Finding::error("value-out-of-range", number.span, message)
                        .help(format!("write a number from {least} to {most}")),
                );
                None
            }
        }
    }

    /// A unit behind an amount, which stands in what is offered where the unit is not known.
    pub(super) fn unit(&mut self, unit: &Num, expected: Option<Dimension>, amount: &str) -> Option<UnitRef> {
        let spelling: String = unit.value.split_whitespace().collect::<Vec<_>>().join(" ");
        let found = units::unit(&spelling)
            .or_else(|| spelling.starts_with('%').then(|| units::unit(&spelling.to_lowercase()))?);
        if found.is_none() {
            let mut finding =
                Finding::error("unknown-unit", unit.span, format!("there is no unit `{}`", unit.value));
            finding = match (units::nearest_unit(&spelling, expected), expected) {
                _ if BETWEEN.contains(&spelling.to_lowercase().as_str()) => {
                    finding.help("write `to` between both ends of a range")
                }
                (Some(near), _) => finding.help(format!("write `{amount} {near}`")),
                (None, Some(dimension)) => {
                    let (kind, example) = dimension.words();
                    finding.help(format!("{kind} is written as `{example}`"))
                }
                (None, None) => finding.help("write a unit such as `mm`, `min`, `ml` or `GU`"),
            };
            self.findings.push(finding);
        }
        found
    }

    /// Both ends of a quantity, with its unit, of whatever kind; equal where one value was written.
    pub(super) fn ends(
        &mut self,
        quantity: &Quantity,
        expected: Option<Dimension>,
    ) -> Option<(AnyQuantity, AnyQuantity)> {
        let low = self.number(&quantity.low);
        let high = quantity.high.as_ref().map(|high| self.number(high));
        let lower = &quantity.low.value;
        let amount =
            quantity.high.as_ref().map_or(lower.clone(), |high| format!("{lower} to {}", high.value));
        let unit = self.unit(quantity.unit.as_ref()?, expected, &amount);
        let low_unit = match &quantity.low_unit {
            Some(unit) => self.unit(unit, expected, lower)?,
            None => unit?,
        };
        let unit = unit?;
        let low = AnyQuantity { value: low?, unit: low_unit };
        let low = AnyQuantity { value: low.in_unit(unit).unwrap_or(low.value), unit };
        let high = match high {
            Some(value) => AnyQuantity { value: value?, unit },
            None => low,
        };
        if high.value < low.value {
            let span =
                quantity.low.span.to(quantity.high.as_ref().map_or(quantity.low.span, |high| high.span));
            self.findings.push(
                Finding::error("range-backwards", span, "this range runs from the higher to the lower value")
                    .help(format!("write `{} to {}`", high.value, low)),
            );
            return None;
        }
        if self.is_too_much(quantity.high.as_ref().unwrap_or(&quantity.low).span, high) {
            return None;
        }
        let whole = [Dimension::PercentVolume, Dimension::PercentMass, Dimension::Humidity];
        if whole.contains(&unit.dimension) && !(0.0..=100.0).contains(&high.value) {
            let span = quantity.high.as_ref().unwrap_or(&quantity.low).span;
            self.findings.push(
                Finding::error("value-out-of-range", span, format!("there is no {high}"))
                    .help("write a value between 0 and 100 %"),
            );
            return None;
        }
        Some((low, high))
    }

    /// Whether a quantity is more than any study has; then it is told.
    pub(super) fn is_too_much(&mut self, span: Span, quantity: AnyQuantity) -> bool {
        let most = MOST.iter().find(|(dimension, _, _)| *dimension == quantity.unit.dimension);
        let Some(&(_, _, most)) = most.filter(|(_, most, _)| quantity.base() > *most) else { return false };
        let message = format!("{quantity} is beyond what a study has");
        self.findings
            .push(Finding::error("value-out-of-range", span, message).help(format!("write at most {most}")));
        true
    }

    /// The same range, where it lies within what makes sense for the work.
    pub(super) fn in_sense(
        &mut self,
        span: Span,
        range: Range<Temperature>,
        sense: Sense,
    ) -> Option<Range<Temperature>> {
        let within = |value: f64| (sense.low_c..=sense.high_c).contains(&value);
        if within(range.low.deg_c()) && within(range.high.deg_c()) {
            return Some(range);
        }
        let message = format!("{} of {range} is beyond what work is done in", sense.what);
        let finding = Finding::error("value-out-of-range", span, message);
        let (low, high) = (range.low.any(), range.high.any());
        let fahrenheit = |value: f64| (value - 32.0) / 1.8;
        let mistaken =
            low.unit.symbol == "degC" && within(fahrenheit(low.value)) && within(fahrenheit(high.value));
        self.findings.push(if mistaken {
            finding.help("write `degF` if that is what was read")
        } else {
            finding.help(format!("it lies between {} and {} degC", sense.low_c, sense.high_c))
        });
        None
    }

    /// A range of one kind; a wrong kind is found at the number.
    pub(super) fn range<K: Kind>(&mut self, quantity: Located<&Quantity>) -> Option<Range<K>> {
        let (low, high) = self.ends(quantity.value, Some(K::DIMENSION))?;
        let (Some(low), Some(high)) = (low.typed::<K>(), high.typed::<K>()) else {
            self.wrong_dimension(quantity.span, low, K::DIMENSION);
            return None;
        };
        // Only a temperature on its scale can be below nothing.
        if low.any().value < 0.0 && !K::SCALE {
            let message = format!("{low} is below zero");
            self.findings.push(
                Finding::error("value-out-of-range", quantity.span, message)
                    .help("write it without the minus"),
            );
            return None;
        }
        Some(Range { low, high })
    }

    /// One value of one kind.
    pub(super) fn one<K: Kind>(&mut self, quantity: Located<&Quantity>) -> Option<units::Quantity<K>> {
        if let Some(high) = &quantity.value.high {
            let span = quantity.value.low.span.to(high.span);
            self.findings.push(
                Finding::error("one-value-wanted", span, "one value is wanted here, not a range")
                    .help("write one number"),
            );
            return None;
        }
        self.range::<K>(quantity).map(|range| range.low)
    }

    /// One value of any of several dimensions.
    pub(super) fn any_of(
        &mut self,
        quantity: Located<&Quantity>,
        dimensions: &[Dimension],
    ) -> Option<AnyQuantity> {
        let expected = dimensions.first().copied();
        let (low, _) = self.ends(quantity.value, expected)?;
        if dimensions.contains(&low.unit.dimension) && low.value < 0.0 {
            let message = format!("{low} is below zero");
            self.findings.push(
                Finding::error("value-out-of-range", quantity.span, message)
                    .help("write it without the minus"),
            );
            return None;
        }
        if dimensions.contains(&low.unit.dimension) {
            return Some(low);
        }
        self.wrong_dimension(quantity.span, low, expected?);
        None
    }

    pub(super) fn wrong_dimension(&mut self, span: Span, found: AnyQuantity, expected: Dimension) {
        let (wanted, example) = expected.words();
        let (got, _) = found.unit.dimension.words();
        if found.unit.dimension == Dimension::PercentOfWhat {
            self.findings.push(
                Finding::error("percent-of-what", span, format!("`{found}` does not say percent of what"))
                    .help(format!("{wanted} is written as `{example}`")),
            );
            return;
        }
        self.findings.push(
            Finding::error("wrong-dimension", span, format!("`{found}` is {got}, but {wanted} belongs here"))
                .help(format!("write {wanted}, as `{example}`")),
        );
    }

    /// A value in the unit of a measure.
    pub(super) fn in_measure(&mut self, quantity: Located<&Quantity>, unit: &MeasureUnit) -> Option<f64> {
        let written = quantity.value.unit.as_ref()?;
        if written.value == unit.symbol {
            return self.number(&quantity.value.low);
        }
        // A measure without a unit has a finding of its own.
        if unit.symbol.is_empty() {
            return None;
        }
        let (low, _) = self.ends(quantity.value, unit.known.map(|unit| unit.dimension))?;
        let points = low.unit.dimension == Dimension::Points && unit.symbol.starts_with('%');
        let value = if points { Some(low.value) } else { unit.known.and_then(|known| low.in_unit(known)) };
        if value.is_none() {
            let message = format!("`{low}` cannot be compared with a measure in {}", unit.symbol);
            self.findings.push(
                Finding::error("wrong-dimension", quantity.span, message)
                    .help(format!("write it in {}", unit.symbol)),
            );
        }
        value
    }

    pub(super) fn date(&mut self, of: &impl Args) -> Option<Located<Date>> {
        let written = of.date()?;
        let date = self.read_date(written)?;
        Some(Located::new(date, written.span))
    }

    pub(super) fn read_date(&mut self, written: Located<&str>) -> Option<Date> {
        let parts: Vec<&str> = written.value.split(['-', '/', '.']).collect();
        let numbers: Vec<i16> = parts.iter().filter_map(|part| part.parse().ok()).collect();
        let &[a, b, c] = numbers.as_slice() else { return self.bad_date(written, None) };
        let day = |year: i16, month: i16, day: i16| {
            Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
        };
        let c = if parts[2].len() == 2 && parts[0].len() <= 2 { 2000 + c } else { c };
        let year = if parts[0].len() == 4 { a } else { c };
        if !YEARS.contains(&year) {
            let (first, last) = YEARS.into_inner();
            self.findings.push(
                Finding::error(
                    "value-out-of-range",
                    written.span,
                    format!("no study lies in the year {year}"),
                )
                .help(format!("write a year from {first} to {last}")),
            );
            return None;
        }
        if parts[0].len() == 4 {
            let Some(date) = day(a, b, c) else { return self.bad_date(written, None) };
            if date.to_string() == written.value {
                return Some(date);
            }
            return self.bad_date(written, Some(date));
        }
        match (day(c, b, a), day(c, a, b)) {
            (Some(one), Some(other)) if one != other => {
                self.findings.push(
                    Finding::error(
                        "day-or-month-first",
                        written.span,
                        format!("`{}` can be read two ways", written.value),
                    )
                    .help(format!("write `{one}` or `{other}`")),
                );
                None
            }
            (one, other) => self.bad_date(written, one.or(other)),
        }
    }

    fn bad_date(&mut self, written: Located<&str>, meant: Option<Date>) -> Option<Date> {
        let finding = match meant {
            Some(date) => Finding::error(
                "date-spelling",
                written.span,
                "a date is year, month, day with two figures each",
            )
            .help(format!("write `{date}`")),
            None => {
                Finding::error("no-such-day", written.span, format!("there is no day `{}`", written.value))
                    .help("write a day of the calendar, as `2026-04-13`")
            }
        };
        self.findings.push(finding);
        None
    }

    pub(super) fn clock(&mut self, written: Located<&str>) -> Option<ClockTime> {
        let (hours, minutes) = written.value.split_once(':')?;
        let time = ClockTime::new(hours.parse().ok()?, minutes.parse().ok()?, 0, 0).ok();
        if time.is_none() {
            let message = format!("there is no time of day `{}`", written.value);
            self.findings
                .push(Finding::error("no-such-time", written.span, message).help("write it as `09:00`"));
        }
        time
    }

    /// A distance or a time that is taken for work: one of nothing, or less, is a slip. `example` is the line to write.
    pub(super) fn above_zero(&mut self, value: f64, span: Span, example: &str) -> bool {
        if value <= 0.0 {
            self.findings.push(
                Finding::error("value-out-of-range", span, "this lies above zero, or it says nothing")
                    .help(format!("write it as `{example}`")),
            );
        }
        value > 0.0
    }

    /// A mix among arguments.
    pub(super) fn mix(&mut self, args: &[Arg]) -> Option<Located<Mix>> {
        args.iter().find_map(|arg| {
            let mix = match &arg.value {
                Value::Word(word) if word == "neat" => Some(Mix::Neat),
                Value::Parts(of, to, Some(liquid)) => {
                    let (of, to) = (self.number(of)?, self.number(to)?);
                    if of <= 0.0 || to <= 0.0 {
                        self.findings.push(
                            Finding::error("value-out-of-range", arg.span, "a mix has some of both").help(
                                "write `neat` for what is not thinned, or the parts, as `1 part to 10 water`",
                            ),
                        );
                        return None;
                    }
                    Some(Mix::Parts { of, to, liquid: liquid.value.clone() })
                }
                Value::Parts(of, to, None) => {
                    self.two_ways(arg.span, &format!("{} to {}", of.value, to.value), &of.value, &to.value)
                }
                Value::Ratio(ratio) => {
                    let (of, to) = ratio.split_once(':')?;
                    self.two_ways(arg.span, ratio, of.trim(), to.trim())
                }
                Value::Quantity(quantity) if is_length(quantity) => {
                    let message = format!("`{} mm` is a length, and no mix", quantity.low.value);
                    let help = format!("with `tape` write `lines {} mm wide`", quantity.low.value);
                    self.findings.push(Finding::error("wrong-dimension", arg.span, message).help(help));
                    None
                }
                Value::Quantity(quantity) => {
                    let percent = [Dimension::PercentVolume, Dimension::PercentMass];
                    self.any_of(Located::new(quantity, arg.span), &percent).map(Mix::Percent)
                }
                _ => None,
            };
            mix.map(|mix| Located::new(mix, arg.span))
        })
    }

    fn two_ways(&mut self, span: Span, written: &str, one: &str, other: &str) -> Option<Mix> {
        // Of so unequal parts the larger is the water: nothing is sold to be thinned with a drop of it.
        let ratio = one.parse::<f64>().ok().zip(other.parse::<f64>().ok()).map(|(one, other)| one / other);
        let water = format!("`{written}` does not say which part is the water");
        let (message, help) = match ratio {
            Some(ratio) if ratio <= 0.1 => (water, format!("write `{} water`", parts(one, other))),
            Some(ratio) if ratio >= 10.0 => (water, format!("write `{} water`", parts(other, one))),
            // So near to each other they may be the two parts of a coating too, into which no water may come.
            _ => (
                format!("`{written}` does not say what its parts are"),
                format!(
                    "write `{}` or `{}`; with a second part that is sold for it, name that: `{} hardener`",
                    parts(one, other) + " water",
                    parts(other, one) + " water",
                    parts(one, other)
                ),
            ),
        };
        self.findings.push(Finding::error("mix-two-ways", span, message).help(help));
        None
    }
}

/// A comma between figures. It can part thousands only where three figures follow each.
fn comma(number: &Num) -> Finding {
    let written = number.value.as_str();
    let plain = written.replace(',', "");
    let (head, tail) = written.split_once(',').unwrap_or((written, ""));
    let groups = tail.split('.').next().unwrap_or("").split(',');
    let thousands = groups.into_iter().all(|group| group.len() == 3)
        && (1..=3).contains(&head.trim_start_matches('-').len())
        && !head.trim_start_matches('-').starts_with('0');
    let decimals = written.matches(',').count() == 1 && !written.contains('.');
    let point = written.replacen(',', ".", 1);
    let (message, help) = match (thousands, decimals) {
        (true, true) => (
            format!("`{written}` can be read two ways"),
            format!("write `{point}`, or `{plain}` if the comma parts thousands"),
        ),
        (true, false) => {
            (format!("`{written}` has commas between its thousands"), format!("write `{plain}`"))
        }
        (false, true) => {
            (format!("`{written}` has a comma where decimals have a point"), format!("write `{point}`"))
        }
        (false, false) => {
            (format!("`{written}` is not a number that can be used"), "write it as `12` or `12.5`".to_owned())
        }
    };
    Finding::error("comma-in-number", number.span, message).help(help)
}

fn parts(of: &str, to: &str) -> String {
    format!("{of} {} to {to}", if of == "1" { "part" } else { "parts" })
}

/// Words that people write for `to` in a range, which reads them as a unit.
const BETWEEN: [&str; 5] = ["bis", "til", "till", "until", "thru"];

fn is_length(quantity: &Quantity) -> bool {
    quantity.unit.as_ref().is_some_and(|unit| unit.value == "mm")
}
