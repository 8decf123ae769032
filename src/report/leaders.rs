//! The sentences on those that may lead: one product, or several.

use super::asked::Place;
use super::footing::bound;
use super::material::Material;
use super::{names, numbers};
use crate::analysis::{
    Answer, Compared, ControlRow, GroupValue, LeadRow, LeadTable, MeasureAnalysis, PairRow, RoundAnalysis,
    Side, Standing, Word,
};
use crate::speech::{count, list, say};
use crate::study::{ProductId, Treatment};

/// Names of more letters than this together make a heading of four lines on a phone.
const MOST_LETTERS: usize = 44;

/// The number of a product at the round.
pub(super) fn value_of(material: &Material<'_>, at: Place<'_>, id: ProductId) -> Option<GroupValue> {
    let (measure, round) = material.analysis.deciding()?;
    let group = measure.group(Treatment::Product(id))?;
    let here = group.at.iter().find(|at| at.round == round.round)?;
    if at.compared == Compared::Change { here.change } else { here.level }
}

/// Which way the numbers of those that may lead went, where all went one way: it is said in a word, and no sign is left to be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Went {
    Down,
    Up,
    /// Not one way, or no change at all.
    Told,
}

/// What is compared of those that may lead, with bare beside it.
struct Beside<'m> {
    material: &'m Material<'m>,
    at: Place<'m>,
    went: Went,
    bare: Option<f64>,
}

impl<'m> Beside<'m> {
    fn of(material: &'m Material<'m>, at: Place<'m>, ids: &[ProductId]) -> Self {
        let bare = bare_of(material, at);
        let numbers = ids.iter().map(|&id| number_of(material, at, id)).chain(bare.map(Some));
        let signs: Option<Vec<f64>> = numbers
            .map(|value| {
                let shown = at.style().compared(value?, at.compared).text;
                let is_zero = !shown.contains(|c: char| matches!(c, '1'..='9'));
                Some(if is_zero { 0.0 } else { value?.signum() })
            })
            .collect();
        let all = |sign: f64| {
            signs
                .as_ref()
                .is_some_and(|signs| !signs.is_empty() && signs.iter().all(|one| (one - sign).abs() < 0.5))
        };
        let went = match at.compared {
            Compared::Change if all(-1.0) => Went::Down,
            Compared::Change if all(1.0) => Went::Up,
            Compared::Level | Compared::Change => Went::Told,
        };
        Self { material, at, went, bare }
    }

    /// The same with every number as it is, for a sentence that does not say which way they went.
    fn plain(self, told: bool) -> Self {
        if told { Self { went: Went::Told, ..self } } else { self }
    }

    /// What the numbers are of; `None` where the sentence says it otherwise.
    fn what(&self) -> Option<String> {
        let (measure, round) = (self.at.measure(), self.at.round());
        match self.went {
            Went::Down => Some(say!("Loss of {measure} up to {round}", measure, round)),
            Went::Up => Some(say!("Rise of {measure} up to {round}", measure, round)),
            Went::Told => None,
        }
    }

    fn text(&self, value: f64) -> String {
        let value = if self.went == Went::Told { value } else { value.abs() };
        let number = match self.went {
            Went::Told => self.at.style().compared(value, self.at.compared).text,
            Went::Down | Went::Up => self.at.style().bare(value),
        };
        numbers::with_unit(&number, self.at.style().unit)
    }

    /// What bare did, behind the products.
    fn bare(&self) -> String {
        self.bare.map_or_else(String::new, |bare| say!("; bare {number}", number = self.text(bare)))
    }

    /// A product with its number and how many sections it is from.
    fn one(&self, id: ProductId) -> String {
        let units = |value: &GroupValue| Some(names::units(self.at.study, self.at.question.measure, value.n));
        self.number(id, units)
    }

    /// Products with their numbers, and how many sections each is from: once, where that is the same for all.
    fn each(&self, ids: &[ProductId]) -> Vec<String> {
        let counts: Option<Vec<usize>> =
            ids.iter().map(|&id| value_of(self.material, self.at, id).map(|value| value.n)).collect();
        let same = counts.and_then(|counts| {
            let first = *counts.first()?;
            (counts.len() > 1 && counts.iter().all(|&n| n == first)).then_some(first)
        });
        let Some(n) = same else { return ids.iter().map(|&id| self.one(id)).collect() };
        let mut named: Vec<String> = ids.iter().map(|&id| self.number(id, |_| None)).collect();
        if let Some(last) = named.last_mut() {
            let units = names::units(self.at.study, self.at.question.measure, n);
            *last += &say!(", each on {units}", units);
        }
        named
    }

    /// A product with its number and what is said behind it in the same brackets.
    fn number(&self, id: ProductId, units: impl Fn(&GroupValue) -> Option<String>) -> String {
        let name = names::product(self.at.study, id);
        let Some((value, number)) =
            value_of(self.material, self.at, id).zip(number_of(self.material, self.at, id))
        else {
            return name;
        };
        let number = self.text(number);
        match (units(&value), beside_bare(self.material, id).map(BesideBare::words)) {
            (Some(units), Some(bare)) => {
                say!("{name} ({number}, {units}; {bare})", name, number, units, bare)
            }
            (Some(units), None) => say!("{name} ({number}, {units})", name, number, units),
            (None, Some(bare)) => format!("{name} ({number}; {bare})"),
            (None, None) => format!("{name} ({number})"),
        }
    }
}

/// The number of a product as it is compared: where pieces link the products, the mean over all pieces alike.
fn number_of(material: &Material<'_>, at: Place<'_>, id: ProductId) -> Option<f64> {
    let value = value_of(material, at, id)?;
    let linked = material.analysis.deciding().and_then(|(_, round)| round.lead.as_ref().ok());
    let linked = linked
        .filter(|table| table.basis.linked())
        .and_then(|table| table.rows.iter().find(|row| row.product == id));
    Some(linked.map_or(value.mean, |row| row.change))
}

/// What bare did, where its mean can stand beside those of products: all of it read, and every difference of the table that to its mean.
fn bare_of(material: &Material<'_>, at: Place<'_>) -> Option<f64> {
    let (_, round) = material.analysis.deciding()?;
    let table = round.to_bare.as_ref().ok().filter(|table| table.control_until.is_none())?;
    let adds_up = |row: &ControlRow| {
        (row.change - table.control.mean - row.difference).abs() <= 1e-9 * (1.0 + row.change.abs())
    };
    let lone = table.control.carried == 0 && table.rows.iter().all(adds_up);
    (at.compared == Compared::Change && lone).then_some(table.control.mean)
}

/// How a product that leads stands to bare, where it is not shown to be better than nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum BesideBare {
    Alike,
    NotToldApart,
    Worse,
}

impl BesideBare {
    fn words(self) -> &'static str {
        match self {
            Self::Alike => say!("alike to bare"),
            Self::NotToldApart => say!("not told apart from bare"),
            Self::Worse => say!("worse than bare"),
        }
    }
}

/// `None` where it is better, or nothing is said of it.
fn beside_bare(material: &Material<'_>, id: ProductId) -> Option<BesideBare> {
    let (_, round) = material.analysis.deciding()?;
    let table = round.to_bare.as_ref().ok()?;
    let row = table.rows.iter().find(|row| row.treatment == Treatment::Product(id))?;
    match (row.counted().ok()?, row.side) {
        (Word::Alike, _) => Some(BesideBare::Alike),
        (Word::NotSettled, _) => Some(BesideBare::NotToldApart),
        (Word::Measurable | Word::Seen, Side::Worse) => Some(BesideBare::Worse),
        (Word::Measurable | Word::Seen, Side::Better | Side::Neither) => None,
    }
}

/// The headline of products that may lead, none of which is told apart from bare: what is no better than nothing is not passed on as leading.
pub(super) fn with_bare(material: &Material<'_>, headline: String, ids: &[ProductId]) -> String {
    let beside: Option<Vec<BesideBare>> = ids.iter().map(|&id| beside_bare(material, id)).collect();
    let Some(beside) = beside else { return headline };
    match beside.as_slice() {
        [] => headline,
        [BesideBare::Alike] => say!("{headline}, and is alike to bare", headline),
        [BesideBare::NotToldApart] => say!("{headline}, and is not told apart from bare", headline),
        several if several.contains(&BesideBare::Worse) => headline,
        several if several.iter().all(|one| *one == BesideBare::Alike) => {
            say!("{headline}, and are alike to bare", headline)
        }
        _ => say!("{headline}, none of them told apart from bare", headline),
    }
}

pub(super) fn one(
    material: &Material<'_>,
    at: Place<'_>,
    table: Option<&LeadTable>,
    id: ProductId,
) -> Stands {
    let name = names::product(at.study, id);
    let others_n = table.map_or(0, |table| table.rows.len().saturating_sub(1 + table.bound.len()));
    let others = if others_n == 1 {
        say!("The other product is").to_owned()
    } else {
        say!("The other {others} products are", others = others_n)
    };
    let round = at.round();
    let shared = table.and_then(|table| Shared::of(material, at, table));
    let lost = shared.as_ref().is_some_and(|shared| shared.lost);
    let beside = Beside::of(material, at, &[id]).plain(lost);
    let product = beside.one(id);
    let headline = if table.is_some_and(|table| !table.bound.is_empty()) {
        say!("{name} is the one product with no patch stopped that may lead at {round}", name, round)
    } else if table.is_some_and(|table| !table.absent.is_empty()) {
        let read = count(others_n + 1, "product");
        say!("{name} is the one of the {read} compared that may lead at {round}", name, read, round)
    } else {
        say!("{name} is the one product that may lead at {round}", name, round)
    };
    let alone = table.is_some_and(|table| {
        let n = |row: &LeadRow| row.n;
        table.rows.iter().any(|row| row.product == id && row.n == 1)
            && table.rows.iter().map(n).any(|n| n > 1)
    });
    let headline = if alone {
        say!("{headline}, by one {unit}", headline, unit = names::unit(at.study, at.question.measure))
    } else {
        headline
    };
    let first = match (lost, others_n) {
        (true, 0) => {
            let product = names::capital(&product);
            say!("{product} alone went on to {round} without a patch stopped.", product, round)
        }
        (true, _) => say!(
            "Of the products without a patch stopped, {product} may lead by {compared}. {others} not ahead.",
            others,
            product,
            compared = at.compared()
        ),
        (false, n) => {
            let bare = beside.bare();
            let first = match beside.what() {
                Some(what) => format!("{what}: {product}{bare}."),
                None => {
                    say!("By {compared}, {product} may lead{bare}.", compared = at.compared(), product, bare)
                }
            };
            if n == 0 { first } else { say!("{first} {others} not ahead.", first, others) }
        }
    };
    let bound = table.and_then(|table| bound(at.study, table, &round));
    let lead = table.and_then(|table| {
        small_lead(material, at, table, id).or_else(|| clear_lead(material, at, table, id))
    });
    Stands::of(headline, std::iter::once(first).chain(lead).chain(bound), shared.as_ref())
}

/// The one that may lead, where the pair table does not tell it from the product next to it, or tells it by less than the study calls alike: with
/// that lead and its interval over all pairs, so that nobody takes a leader by so little for a better product.
fn small_lead(material: &Material<'_>, at: Place<'_>, table: &LeadTable, id: ProductId) -> Option<String> {
    let pairs = material.analysis.between.as_ref()?.as_ref().ok()?;
    let whole = table.rows.iter().filter(|row| row.product != id && !table.bound.contains(&row.product));
    let next = whole.max_by(|a, b| a.lead.total_cmp(&b.lead))?.product;
    let of_both = |row: &&PairRow| [(id, next), (next, id)].contains(&(row.one, row.other));
    let pair = pairs.rows.iter().find(of_both).copied()?;
    let pair = if pair.one == id { pair } else { pair.turned() };
    let interval = pair.interval.filter(|interval| !interval.is_open())?;
    let alike = at.study.measure(at.question.measure).alike.as_ref().map(|alike| alike.value);
    let within = alike.is_some_and(|alike| pair.difference.abs() < alike);
    let (_, round) = material.analysis.deciding()?;
    let style = at.finest.as_sure_as(round.standard_error());
    let (name, next) = (names::product(at.study, id), names::product(at.study, next));
    let by = numbers::with_unit(&style.signed(pair.difference), style.difference_unit());
    let (low, high) = (style.end(interval.low), style.end(interval.high));
    let limit = alike.map(|alike| numbers::with_unit(&numbers::decimal(alike), style.difference_unit()));
    match (interval.leaves_out_zero(), within, limit) {
        (false, ..) => Some(say!(
            "{name} and {next} are not told apart: {by} (from {low} to {high} over all pairs).",
            name,
            by,
            next,
            low,
            high
        )),
        (true, true, Some(limit)) => Some(say!(
            "{name} and {next} differ by {by}, less than the {limit} that the study calls alike (from {low} to {high} over all pairs).",
            name,
            by,
            next,
            low,
            high,
            limit
        )),
        _ => None,
    }
}

/// The one that may lead, where every pair of it is told apart: with its distance to the next, so that it is not taken for one that only
/// may.
fn clear_lead(material: &Material<'_>, at: Place<'_>, table: &LeadTable, id: ProductId) -> Option<String> {
    let pairs = material.analysis.between.as_ref()?.as_ref().ok()?;
    let own: Vec<PairRow> = pairs
        .rows
        .iter()
        .filter(|row| [row.one, row.other].contains(&id))
        .map(|row| if row.one == id { *row } else { row.turned() })
        .collect();
    let told = |row: &PairRow| matches!(row.word, Ok(Word::Seen | Word::Measurable));
    if own.len() < 2 || own.len() + 1 < table.rows.len() || !own.iter().all(told) {
        return None;
    }
    let next = own.iter().min_by(|a, b| a.difference.abs().total_cmp(&b.difference.abs()))?;
    let interval = next.interval.filter(|interval| !interval.is_open())?;
    let (near, far) = {
        let (low, high) = (interval.low.abs(), interval.high.abs());
        (low.min(high), low.max(high))
    };
    let (_, round) = material.analysis.deciding()?;
    let style = at.finest.as_sure_as(round.standard_error());
    Some(say!(
        "Every pair tells it apart from the others; the next, {next}, is {by} behind ({low} to {high}).",
        next = names::product(at.study, next.other),
        by = numbers::with_unit(&style.bare(next.difference.abs()), style.difference_unit()),
        low = style.bare(near),
        high = style.bare(far)
    ))
}

/// The rule of that sentence, where it stands in the answer.
pub(super) fn rule(material: &Material<'_>) -> Option<String> {
    let Answer::Read { standing: Standing::OneLeader(id), .. } = material.analysis.answer else {
        return None;
    };
    let (_, round) = material.analysis.deciding()?;
    let at = Place::of(material.study, material.analysis)?;
    small_lead(material, at, round.lead.as_ref().ok()?, id)?;
    Some(
        say!(
            "One product that may lead: the answer names its difference to the next in rank with the interval of the table of all pairs, where that \
             interval holds zero or the difference is less than the alike limit. Who may lead and which two of all pairs differ are two questions."
        )
        .to_owned(),
    )
}

/// How the products stand: the headline, and the sentences behind it.
pub(super) struct Stands {
    pub(super) headline: String,
    /// The sentences on the round of the question.
    pub(super) lead: Vec<String>,
    /// The sentence on the last round that all products share, where patches were stopped later.
    pub(super) shared: Option<String>,
    /// Whether the headline is of that round, so that its sentence comes first.
    pub(super) of_shared: bool,
}

impl Stands {
    pub(super) fn of(
        headline: String,
        lead: impl IntoIterator<Item = String>,
        shared: Option<&Shared<'_>>,
    ) -> Self {
        let of_shared = shared.and_then(Shared::headline);
        Self {
            of_shared: of_shared.is_some(),
            headline: of_shared.unwrap_or(headline),
            lead: lead.into_iter().collect(),
            shared: shared.map(Shared::sentence),
        }
    }
}

impl From<(String, Vec<String>)> for Stands {
    fn from((headline, lead): (String, Vec<String>)) -> Self {
        Self::of(headline, lead, None)
    }
}

/// The last round before `deciding` at which every product of its table was read and none had a patch stopped, with its table.
pub(super) fn shared_round<'m>(
    measure: &'m MeasureAnalysis,
    deciding: &RoundAnalysis,
) -> Option<(&'m RoundAnalysis, &'m LeadTable)> {
    let now = deciding.lead.as_ref().ok().filter(|table| !table.bound.is_empty())?;
    let before = measure.rounds.iter().take_while(|round| round.round != deciding.round);
    let read = |id: &ProductId, table: &LeadTable| table.rows.iter().any(|row| row.product == *id);
    let shared = before.filter_map(|round| {
        let table = round.lead.as_ref().ok().filter(|table| table.bound.is_empty())?;
        let whole = now.rows.iter().all(|row| read(&row.product, table));
        Some((round, table)).filter(|_| whole)
    });
    shared.last()
}

/// The last round that all products share of which patches were stopped later.
pub(super) struct Shared<'m> {
    at: Place<'m>,
    pub(super) analysed: &'m RoundAnalysis,
    round: String,
    table: &'m LeadTable,
    pub(super) leaders: &'m [ProductId],
    /// Whether a product that may lead there was stopped later.
    lost: bool,
}

impl<'m> Shared<'m> {
    pub(super) fn of(material: &Material<'m>, at: Place<'m>, now: &LeadTable) -> Option<Self> {
        let (measure, deciding) = material.analysis.deciding()?;
        let (analysed, table) = shared_round(measure, deciding)?;
        let leaders = table.may_lead.as_deref().ok()?;
        let lost = leaders.iter().any(|id| now.bound.contains(id));
        let round = names::round(at.study, analysed.round).into_owned();
        Some(Self { at, analysed, round, table, leaders, lost })
    }

    /// The headline where a product that may lead there was stopped later, so that who is left leads nobody.
    fn headline(&self) -> Option<String> {
        self.lost.then(|| {
            say!(
                "Up to {round}, the last that all products share, {leaders} may lead",
                round = self.round,
                leaders = if self.leaders.len() == self.table.rows.len() {
                    let absent = !self.table.absent.is_empty();
                    names::of_compared(self.leaders.len(), self.table.rows.len(), absent)
                } else {
                    list(&names::products(self.at.study, self.leaders), "and")
                }
            )
        })
    }

    /// How all stand there.
    pub(super) fn sentence(&self) -> String {
        let style = self.at.finest.as_sure_as(self.analysed.standard_error());
        let told = |leads: bool| {
            let own = self.table.rows.iter().filter(|row| self.leaders.contains(&row.product) == leads);
            let with_value = |row: &LeadRow| {
                format!(
                    "{} {}",
                    names::product(self.at.study, row.product),
                    style.compared(row.change, self.at.compared).text
                )
            };
            list(&own.map(with_value).collect::<Vec<_>>(), "and")
        };
        let (leaders, others) = (told(true), told(false));
        let leaders = numbers::with_unit(&leaders, style.unit);
        if others.is_empty() {
            return say!(
                "At {round}, the last that all products share, every product may lead: {leaders}.",
                round = self.round,
                leaders
            );
        }
        say!(
            "At {round}, the last that all products share, {leaders} may lead; not ahead {others}.",
            round = self.round,
            leaders,
            others = numbers::with_unit(&others, style.unit)
        )
    }
}

/// Those that may lead, the one that is farthest ahead first: wherever they are named, in this order.
pub(super) fn in_order(table: Option<&LeadTable>, ids: &[ProductId]) -> Vec<ProductId> {
    let mut ordered = ids.to_vec();
    if let Some(table) = table {
        let lead =
            |id: &ProductId| table.rows.iter().find(|row| row.product == *id).map_or(0.0, |row| row.lead);
        ordered.sort_by(|a, b| lead(b).total_cmp(&lead(a)));
    }
    ordered
}

pub(super) fn several(
    material: &Material<'_>,
    at: Place<'_>,
    table: Option<&LeadTable>,
    ids: &[ProductId],
) -> Stands {
    let all = table.map_or(ids.len(), |table| table.rows.len());
    let ordered = in_order(table, ids);
    let (apart, ordered): (Vec<ProductId>, Vec<ProductId>) =
        ordered.into_iter().partition(|&id| table.is_some_and(|table| only_by_few(at, table, ids, id)));
    let shared = table.and_then(|table| Shared::of(material, at, table));
    let rest_n = all - ids.len() - table.map_or(0, |table| table.bound.len());
    let rest = rest_n;
    let rest =
        if rest == 1 { say!("The other product is").to_owned() } else { say!("The other {rest} are", rest) };
    let lost = shared.as_ref().is_some_and(|shared| shared.lost);
    let beside = Beside::of(material, at, ids).plain(lost);
    let (named, bare) = (beside.each(&ordered), beside.bare());
    let absent = table.is_some_and(|table| !table.absent.is_empty());
    let by_name = names::products(at.study, &ordered);
    // Who may lead is what a reader asks, as far as a heading has room for it.
    let told =
        by_name.len() <= 3 && apart.is_empty() && !absent && by_name.concat().chars().count() <= MOST_LETTERS;
    let headline = if told {
        say!("{products} may lead at {round}", products = list(&by_name, "and"), round = at.round())
    } else {
        say!(
            "{all} may lead at {round}",
            all = names::capital(&names::of_compared(ids.len(), all, absent)),
            round = at.round()
        )
    };
    let first = match (lost, named.as_slice(), beside.what()) {
        (true, named, _) => say!(
            "Of the products without a patch stopped, {named} may lead by {compared}.",
            compared = at.compared(),
            named = list(named, "and")
        ),
        (false, [product], Some(what)) => format!("{what}: {product}{bare}."),
        (false, [product], None) => {
            say!("By {compared}, {product} may lead{bare}.", compared = at.compared(), product, bare)
        }
        (false, named, Some(what)) => {
            say!(
                "{what}: {named}, not told apart from the first{bare}.",
                what,
                bare,
                named = list(named, "and")
            )
        }
        (false, named, None) => {
            say!(
                "By {compared}, these may lead and are not told apart from the first: {named}{bare}.",
                compared = at.compared(),
                named = list(named, "and"),
                bare
            )
        }
    };
    let lead = std::iter::once(first)
        .chain((!apart.is_empty()).then(|| by_few(&beside, &apart)))
        .chain((rest_n > 0).then(|| say!("{rest} not ahead.", rest)))
        .chain(table.and_then(|table| bound(at.study, table, &at.round())));
    Stands::of(headline, lead, shared.as_ref())
}

/// Whether a product is among those that may lead only since it lies on fewer sections: its mean is no better, as it is printed, than that
/// of one that is out.
fn only_by_few(at: Place<'_>, table: &LeadTable, leaders: &[ProductId], id: ProductId) -> bool {
    let Some(own) = table.rows.iter().find(|row| row.product == id) else { return false };
    let printed = |row: &LeadRow| at.style().compared(row.change, at.compared).text;
    let out = table
        .rows
        .iter()
        .filter(|row| !leaders.contains(&row.product) && !table.bound.contains(&row.product));
    let mut ahead = out.filter(|row| row.n > own.n);
    ahead.any(|row| row.lead >= own.lead || printed(row) == printed(own))
}

/// The sentence on these.
fn by_few(beside: &Beside<'_>, ids: &[ProductId]) -> String {
    let named: Vec<String> = ids.iter().map(|&id| beside.one(id)).collect();
    say!(
        "Not excluded only because so few sections exclude little: {named}, no better in the mean than a product that is not ahead.",
        named = list(&named, "and")
    )
}
