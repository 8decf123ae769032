//! Coats of a product: what they share, what one says of itself, and when each of them goes on.

use super::{DoneWhat, Mix, Product, ProductId, Study};
use crate::text::Span;
use crate::units::{AnyQuantity, Quantity, Range, Time};
use jiff::SignedDuration;
use jiff::civil::{DateTime, Time as ClockTime};

/// Coats of a product.
#[derive(Debug, Clone, PartialEq)]
pub struct Coats {
    /// How many.
    pub number: u32,
    /// The window for the next coat, counted from the one before.
    pub after: Option<Range<Time>>,
    /// What single coats say of themselves, each number once, in rising order.
    pub own: Vec<Coat>,
    /// What is done to a coat before the next one, in the user's words.
    pub between: Option<String>,
    /// Place of the statement.
    pub span: Span,
}

impl Coats {
    /// How many coats there can be; a larger number is a slip. A bound of this program, no rule of the trade.
    pub const MOST: u32 = 100;
}

/// One coat.
#[derive(Debug, Clone, PartialEq)]
pub struct Coat {
    /// Its number from 1.
    pub number: u32,
    /// Amount on an area.
    pub uses: Option<AnyQuantity>,
    /// From laying on to wiping off.
    pub off: Option<Range<Time>>,
    /// Its window, counted from the coat before.
    pub after: Option<Range<Time>>,
    /// How it is mixed.
    pub mix: Option<Mix>,
    /// Place of its statement.
    pub span: Span,
}

impl Product {
    /// How many coats it gets.
    pub fn coats_number(&self) -> u32 {
        self.coats.as_ref().map_or(1, |coats| coats.number)
    }

    /// Whether any coat of it is wiped off or buffed: each is, unless the study says that it is left as it is.
    pub fn is_wiped(&self) -> bool {
        !self.unwiped || self.each_coat().any(|coat| coat.off.is_some())
    }

    /// Whether its coats are described one by one.
    pub fn coats_differ(&self) -> bool {
        self.coats.as_ref().is_some_and(|coats| !coats.own.is_empty())
    }

    /// A coat by its number: what its own line says, else what the product says of all.
    pub fn coat(&self, number: u32) -> Coat {
        let coats = self.coats.as_ref();
        let own = coats.and_then(|coats| coats.own.iter().find(|own| own.number == number));
        let span = own.map(|own| own.span).or(coats.map(|coats| coats.span));
        Coat {
            number,
            uses: own.and_then(|own| own.uses).or(self.uses),
            off: own.and_then(|own| own.off).or(self.flash.as_ref().map(|flash| flash.value)),
            after: own
                .and_then(|own| own.after)
                .or(coats.and_then(|coats| coats.after))
                .filter(|_| number > 1),
            mix: own.and_then(|own| own.mix.clone()).or(self.mix.as_ref().map(|mix| mix.value.clone())),
            span: span.unwrap_or(self.name.span),
        }
    }

    /// Whether a coat flashes and is levelled or buffed then; else what stands on the surface is wiped off.
    pub fn is_levelled(&self, coat: &Coat) -> bool {
        self.flash.as_ref().is_some_and(|flash| coat.off == Some(flash.value))
    }

    /// Every coat in its order.
    pub fn each_coat(&self) -> impl Iterator<Item = Coat> {
        (1..=self.coats_number()).map(|number| self.coat(number))
    }

    /// What all coats together take on an area, in the unit of the first; `None` where one does not say.
    pub fn uses_in_all(&self) -> Option<AnyQuantity> {
        let first = self.coat(1).uses?;
        let amounts = self.each_coat().map(|coat| coat.uses?.in_unit(first.unit));
        let value = amounts.sum::<Option<f64>>()?;
        Some(AnyQuantity { value, unit: first.unit })
    }
}

impl Study {
    /// The day and hour of the first coat; midnight where the hour is not said, so that nothing is taken for later than it is.
    pub fn first_coat(&self) -> Option<DateTime> {
        let apply = self.apply.as_ref()?;
        let on = apply.on.as_ref()?.value;
        Some(on.to_datetime(apply.from.unwrap_or(ClockTime::midnight())))
    }

    /// The moment of a coat of a product, by the record as far as it goes; each coat that is not on record
    /// follows the one before at the start of its window.
    pub fn coat_at(&self, id: ProductId, number: u32) -> Option<DateTime> {
        let recorded = self.done.iter().filter_map(|done| match &done.what {
            DoneWhat::Coat(laid, product) if product.value == id && *laid <= number => {
                Some((*laid, done.date.value.to_datetime(done.time.unwrap_or(ClockTime::midnight()))))
            }
            _ => None,
        });
        let (laid, mut at) = match recorded.max() {
            Some(last) => last,
            None => (1, self.first_coat()?),
        };
        let product = self.product(id);
        for next in laid + 1..=number.min(Coats::MOST) {
            if let Some(after) = product.coat(next).after {
                at = later(at, after.low)?;
            }
        }
        Some(at)
    }

    /// The moment of the last coat of all that go on anything, by the record as far as it goes, then as hands can have it on; what
    /// `after apply` counts from.
    pub fn last_of_all_coats(&self) -> Option<DateTime> {
        if self.last_by_hands.is_some() {
            return self.last_by_hands;
        }
        let used = self.products_with_ids().filter(|(id, _)| self.is_laid_on(*id));
        used.filter_map(|(id, _)| self.last_coat(id)).max().or_else(|| self.first_coat())
    }

    /// The moment of a product's last coat.
    pub fn last_coat(&self, id: ProductId) -> Option<DateTime> {
        let planned = self.product(id).coats_number();
        let laid = self.done.iter().filter_map(|done| match &done.what {
            DoneWhat::Coat(number, product) if product.value == id => Some(*number),
            _ => None,
        });
        self.coat_at(id, laid.max().unwrap_or(1).max(planned))
    }
}

/// A moment that lies `by` later; whole months and years go by the calendar, the rest by seconds.
///
/// `None` where the result leaves the calendar or `by` is not finite.
pub fn later(from: DateTime, by: Quantity<Time>) -> Option<DateTime> {
    let any = by.any();
    let months = match any.unit.symbol {
        "months" => Some(any.value),
        "years" => Some(any.value * 12.0),
        _ => None,
    };
    if let Some(months) = months.filter(|months| months.fract() == 0.0 && months.abs() < 12_000.0) {
        #[expect(clippy::cast_possible_truncation, reason = "whole and below 12 000, as the filter says")]
        let span = jiff::Span::new().try_months(months as i64).ok()?;
        return from.checked_add(span).ok();
    }
    from.checked_add(SignedDuration::try_from_secs_f64(by.seconds()).ok()?).ok()
}
