//! What to measure out: a mix for a batch, and what a product needs on each section.

use super::super::numbers::{self, dose};
use super::super::safety::by_volume;
use super::work::surface;
use crate::catalog::{Catalog, Class, Danger, Reach, same_name};
use crate::speech::{count, list, said, say};
use crate::study::{Coat, Mix, Product, ProductId, Section, SectionId, Step, Study, Supply, Treatment, Verb};
use crate::units::{AnyQuantity, Dimension};

/// A mix in words.
pub(in crate::report) fn mix_text(mix: &Mix) -> String {
    match mix {
        Mix::Neat => say!("neat, as it comes").to_owned(),
        Mix::Parts { of, to, liquid } => {
            let (one, of, to) = ((of - 1.0).abs() < 1e-12, numbers::decimal(*of), numbers::decimal(*to));
            let liquid = said(liquid);
            if one {
                say!("{of} part to {to} {liquid}", of, to, liquid)
            } else {
                say!("{of} parts to {to} {liquid}", of, to, liquid)
            }
        }
        Mix::Percent(any) => numbers::amount(any),
    }
}

/// The batch that is taken where the study gives none, ml or g.
const BATCH: f64 = 1000.0;

/// What a bucket of a wash holds: common practice, no source.
const BUCKET: f64 = 10_000.0;

/// What is spilled, or stays in the bottle and the cloth, over what goes on: common practice, no source.
pub(super) const SPARE: f64 = 1.1;

/// A stock that is diluted.
#[derive(Debug, Clone, Copy)]
struct Stock<'a> {
    name: &'a str,
    class: Option<&'a Class>,
    strength: Option<AnyQuantity>,
    density: Option<AnyQuantity>,
}

impl<'a> Stock<'a> {
    fn of_supply(supply: &'a Supply) -> Self {
        let class = supply.kind.as_ref().and_then(|kind| kind.class);
        Stock { name: supply.title(), class, strength: supply.strength, density: supply.density }
    }

    /// Whether a wash takes buckets of it.
    fn is_for_buckets(self) -> bool {
        self.class.is_some_and(|class| class.work.for_buckets)
    }

    fn of_product(product: &'a Product) -> Self {
        let class = product.kind.as_ref().and_then(|kind| kind.class);
        Stock { name: product.title(), class, strength: None, density: product.density }
    }
}

/// How much of a mix is stock.
#[derive(Debug, Clone, PartialEq)]
struct Share {
    /// Above 0 and at most 1.
    of_mix: f64,
    /// True where it is a share of mass.
    by_mass: bool,
    /// What the batch is filled up with.
    liquid: String,
    /// The same as its bottle is called.
    called: String,
}

/// What is made at once.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Batch {
    share: Share,
    /// All of it, ml or g.
    total: f64,
    /// What is needed of it with its spare, ml or g; `None` where the study does not say how much, so that the usual batch is
    /// taken.
    needed: Option<f64>,
}

impl Batch {
    /// The stock in it, ml or g.
    pub(super) fn stock(&self) -> f64 {
        self.share.of_mix * self.total
    }

    /// What it is filled up with, ml or g; volumes that shrink as they mix take a little more.
    pub(super) fn filling(&self) -> f64 {
        self.total - self.stock()
    }

    /// The name of what it is filled up with.
    pub(super) fn liquid(&self) -> &str {
        &self.share.liquid
    }

    /// The unit of both.
    pub(super) fn unit(&self) -> &'static str {
        if self.share.by_mass { "g" } else { "ml" }
    }

    /// True where the usual batch is taken, for want of what is needed.
    pub(super) fn is_assumed(&self) -> bool {
        self.needed.is_none()
    }

    /// What its stock is measured with, where that is little.
    pub(super) fn small_tool(&self) -> Option<&'static str> {
        small_tool(self.stock(), self.share.by_mass)
    }

    /// ` (rounded up from 430 ml)`; empty where it holds what is needed and no more.
    fn rounded(&self) -> String {
        let needed = self.needed.filter(|needed| self.total > needed * (1.0 + 1e-9));
        let from = needed.map(|needed| dose(needed, self.unit())).filter(|from| *from != self.size());
        from.map_or_else(String::new, |from| say!(" (rounded up from {amount})", amount = from))
    }

    /// `1 l`, `500 ml`.
    pub(super) fn size(&self) -> String {
        let (unit, thousand) = if self.share.by_mass { ("g", "kg") } else { ("ml", "l") };
        if self.total >= 1000.0 {
            format!("{} {thousand}", numbers::decimal(self.total / 1000.0))
        } else {
            format!("{} {unit}", numbers::decimal(self.total))
        }
    }
}

/// A batch of a supply for one time of a step: for what the surface takes of it where the study says that, else the usual one;
/// `None` where nothing is added to it, an error in words where its share cannot be told.
pub(super) fn batch(
    catalog: &Catalog,
    study: &Study,
    step: &Step,
    supply: &Supply,
    mix: &Mix,
) -> Option<Result<Batch, String>> {
    // A can is neither mixed nor measured.
    if supply.is_aerosol() {
        return None;
    }
    let stock = Stock::of_supply(supply);
    if let Some(why) = forbidden(catalog, study, mix, stock) {
        return Some(Err(why));
    }
    let share = match share(catalog, study, mix, stock)? {
        Ok(share) => share,
        Err(why) => return Some(Err(why)),
    };
    let same = |uses: &AnyQuantity| (uses.unit.dimension == Dimension::MassPerArea) == share.by_mass;
    let need = supply.uses.filter(same).zip(surface(study, step).area_m2);
    let need = need.map(|(uses, area_m2)| uses.base() * area_m2 * f64::from(step.times));
    let usual = if stock.is_for_buckets() && step.verb == Verb::Wash { BUCKET } else { BATCH };
    Some(Ok(of_need(share, need, usual)))
}

fn of_need(share: Share, need: Option<f64>, usual: f64) -> Batch {
    let total = need.map_or_else(|| raised(&share, usual), |need| holding(need, &share));
    Batch { share, total, needed: need.map(|need| need * SPARE) }
}

/// A batch of a supply in words: `for 1 l: some water first, then 5 ml of soap, ...`.
pub(super) fn batch_words(catalog: &Catalog, supply: &Supply, batch: &Batch) -> String {
    for_batch(Stock::of_supply(supply), batch, catalog)
}

/// What one time of a step takes of a supply that is not mixed, with its spare: ml or g, and true for g.
pub(super) fn taken_neat(study: &Study, step: &Step, supply: &Supply) -> Option<(f64, bool)> {
    let uses = supply.uses?;
    let area_m2 = surface(study, step).area_m2?;
    let by_mass = uses.unit.dimension == Dimension::MassPerArea;
    Some((uses.base() * area_m2 * f64::from(step.times) * SPARE, by_mass))
}

/// What the surface takes of a supply in a step, mix and all; `None` where the study does not say what an area takes.
pub(super) fn on_panel(study: &Study, step: &Step, supply: &Supply) -> Option<String> {
    let uses = supply.uses?;
    let surface = surface(study, step);
    let unit = if uses.unit.dimension == Dimension::MassPerArea { "g" } else { "ml" };
    let amount = dose(uses.base() * surface.area_m2?, unit);
    let (surface, uses) = (surface.name, numbers::amount(&uses));
    Some(if step.times > 1 {
        say!("about {amount} {surface} each time ({uses})", amount, surface, uses)
    } else {
        say!("about {amount} {surface} ({uses})", amount, surface, uses)
    })
}

// That of its data sheet; else of alcohol only, whose density the catalog knows, g/ml.
fn density(catalog: &Catalog, stock: Stock<'_>) -> Option<f64> {
    if let Some(stated) = stock.density {
        return Some(stated.base());
    }
    let rule =
        &catalog.isopropanol().filter(|_| stock.class.is_some_and(|class| class.id == "isopropanol"))?.mass;
    let part = stock.strength.and_then(|strength| by_volume(catalog, strength))? / 100.0;
    Some(part * rule.density_isopropanol_g_per_ml + (1.0 - part) * rule.density_water_g_per_ml)
}

/// A mix of a product, the coats that go on in it, and the batch for one of them: what is left after a coat is thrown away
/// with the pot life, so each coat has a batch of its own.
pub(super) struct CoatMix {
    pub(super) mix: Mix,
    pub(super) coats: Vec<u32>,
    /// `None` where nothing is added to it; an error in words where its share cannot be told.
    pub(super) batch: Option<Result<Batch, String>>,
}

/// The mixes of a product, in the order of its coats.
pub(super) fn coat_mixes(catalog: &Catalog, study: &Study, id: ProductId) -> Vec<CoatMix> {
    let product = study.product(id);
    let mut mixes: Vec<CoatMix> = Vec::new();
    for coat in product.each_coat() {
        let Some(mix) = coat.mix else { continue };
        match mixes.iter_mut().find(|known| known.mix == mix) {
            Some(known) => known.coats.push(coat.number),
            None => mixes.push(CoatMix { mix, coats: vec![coat.number], batch: None }),
        }
    }
    for own in &mut mixes {
        let stock = Stock::of_product(product);
        let share = share(catalog, study, &own.mix, stock).filter(|_| !product.is_aerosol());
        own.batch = share.map(|share| {
            if let Some(why) = forbidden(catalog, study, &own.mix, stock) {
                return Err(why);
            }
            let share = share?;
            let needs = own.coats.iter().map(|&coat| need(study, id, std::iter::once(product.coat(coat))));
            let needs: Option<Vec<Need>> = needs.collect();
            let largest = needs.and_then(|needs| {
                let same = needs.iter().all(|need| need.by_mass == share.by_mass);
                needs.into_iter().map(|need| need.all).reduce(f64::max).filter(|_| same)
            });
            Ok(of_need(share, largest, BATCH))
        });
    }
    mixes
}

/// A batch of a product in words.
pub(super) fn coat_batch_words(catalog: &Catalog, product: &Product, batch: &Batch) -> String {
    for_batch(Stock::of_product(product), batch, catalog)
}

// Nobody is told how much to take for a mix that makes gas, fire or burns.
fn forbidden(catalog: &Catalog, study: &Study, mix: &Mix, stock: Stock<'_>) -> Option<String> {
    let Mix::Parts { liquid, .. } = mix else { return None };
    let pair = catalog.meet_in(Reach::Vessel, stock.class?, study.liquid_class(catalog, liquid)?)?;
    let (stock, liquid, result) = (stock.name, said(liquid), said(pair.result).trim_end_matches('.'));
    (pair.severity == Danger::Forbid).then(|| {
        say!("do not mix {stock} with {liquid}: {result}. No amounts are given", stock, liquid, result)
    })
}

// One part to n is the share 1 / (1 + n), and a strength is the share target / stock.
fn share(catalog: &Catalog, study: &Study, mix: &Mix, stock: Stock<'_>) -> Option<Result<Share, String>> {
    match mix {
        Mix::Neat => None,
        Mix::Parts { of, to, liquid } => {
            let of_mix = of / (of + to);
            let mixed = of_mix > 0.0 && of_mix < 1.0;
            let bottle = study.supplies.iter().find(|supply| same_name(&supply.name.value, liquid));
            let called = bottle.map_or(liquid.as_str(), |supply| supply.title()).to_owned();
            mixed.then(|| Ok(Share { of_mix, by_mass: false, liquid: liquid.clone(), called }))
        }
        Mix::Percent(target) => Some(of_strength(catalog, *target, stock)),
    }
}

fn of_strength(catalog: &Catalog, target: AnyQuantity, stock: Stock<'_>) -> Result<Share, String> {
    let name = stock.name;
    let strength = stock.strength.ok_or_else(|| {
        say!("the strength of {name} is not stated; take target / strength on its label x batch", name)
    })?;
    let by_mass = |any: AnyQuantity| any.unit.dimension == Dimension::PercentMass;
    // The two kinds of percent meet for isopropanol only, whose densities the catalog has.
    let both = if target.unit.dimension == strength.unit.dimension {
        Some((target.value, strength.value, by_mass(target)))
    } else if stock.class.is_some_and(|class| class.id == "isopropanol") {
        let volume = |any| by_volume(catalog, any);
        volume(target).zip(volume(strength)).map(|(target, strength)| (target, strength, false))
    } else {
        None
    };
    let (target, strength) = (numbers::amount(&target), numbers::amount(&strength));
    let (part, whole, by_mass) = both.ok_or_else(|| {
        say!("{name} is bought as {strength}, which is another kind of percent", name, strength)
    })?;
    if part > 0.0 && part <= whole {
        Ok(Share { of_mix: part / whole, by_mass, liquid: "water".to_owned(), called: "water".to_owned() })
    } else {
        Err(say!(
            "{target} cannot be made from {name}, which is bought as {strength}",
            target,
            name,
            strength
        ))
    }
}

// Less than 1 ml cannot be measured well, so ten times the batch is taken first.
fn raised(share: &Share, usual: f64) -> f64 {
    if share.of_mix * usual < 1.0 { 10.0 * usual } else { usual }
}

// The first of 1, 2, 5, 10, 20 ml and so on that holds the need with its spare, and 1 ml of stock.
fn holding(need: f64, share: &Share) -> f64 {
    let decades = (0..6).map(|power| 10f64.powi(power));
    let mut batches = decades.flat_map(|decade| [decade, 2.0 * decade, 5.0 * decade]);
    batches.find(|batch| *batch >= need * SPARE && share.of_mix * batch >= 1.0).unwrap_or(need * SPARE)
}

fn for_batch(stock: Stock<'_>, batch: &Batch, catalog: &Catalog) -> String {
    let share = &batch.share;
    if share.of_mix >= 1.0 {
        return say!("as bought, nothing is added").to_owned();
    }
    let (whole, amount, rounded) = (batch.size(), batch.stock(), batch.rounded());
    // A scale is at hand where a measuring cup is not.
    let weight = density(catalog, stock).filter(|_| !share.by_mass);
    let weight =
        weight.map(|g| say!(" (about {amount})", amount = dose(amount * g, "g"))).unwrap_or_default();
    let measure = say!(
        "{amount}{weight} of {stock}{tool}",
        amount = dose(amount, batch.unit()),
        weight,
        stock = stock.name,
        tool = small(amount, share.by_mass)
    );
    // Water first keeps foam down, and an acid or alkali from spitting. Volumes shrink when they mix, so
    // the batch is filled up to its mark and no amount of water is told.
    if share.liquid == "water" {
        say!(
            "for {whole}{rounded}: some water first, then {measure}, then top up with water to {whole}",
            whole,
            rounded,
            measure
        )
    } else {
        say!(
            "for {whole}{rounded}: {measure}, then top up with {liquid} to {whole} (about {filling})",
            whole,
            rounded,
            measure,
            liquid = share.called,
            filling = dose(batch.filling(), batch.unit())
        )
    }
}

fn small(amount: f64, by_mass: bool) -> String {
    in_brackets(small_tool(amount, by_mass))
}

fn in_brackets(tool: Option<&str>) -> String {
    tool.map_or_else(String::new, |tool| format!(" ({tool})"))
}

/// What measures less than 1 ml or 1 g.
fn small_tool(amount: f64, by_mass: bool) -> Option<&'static str> {
    let tool = if by_mass { say!("scale that reads 0.01 g") } else { say!("1 ml syringe") };
    (amount < 1.0).then_some(tool)
}

/// What the sections of a product need.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Need {
    /// True for g, false for ml.
    by_mass: bool,
    /// The smallest coat on the smallest section.
    low: f64,
    /// What each section takes of the first of these coats.
    own: Vec<(SectionId, f64)>,
    /// All coats on all sections.
    all: f64,
    /// On the panel.
    sections: usize,
    /// Loose ones beside it, or those of racks.
    specimens: usize,
    coats: usize,
}

/// What some coats of a product need; `None` where the use of one or the shape of a section is not stated.
pub(in crate::report) fn need(
    study: &Study,
    id: ProductId,
    coats: impl Iterator<Item = Coat>,
) -> Option<Need> {
    let carriers: Vec<(SectionId, &Section)> = study.carriers_of(Treatment::Product(id)).collect();
    let is_rack = study.is_on_racks();
    let specimens = carriers.iter().filter(|(_, own)| is_rack || own.specimen.is_some()).count();
    let areas: Option<Vec<f64>> = carriers.iter().map(|(_, own)| study.area_m2(own)).collect();
    let (areas, uses) = (areas?, coats.map(|coat| coat.uses).collect::<Option<Vec<AnyQuantity>>>()?);
    let by_mass = uses.first()?.unit.dimension == Dimension::MassPerArea;
    let doses = uses.iter().flat_map(|uses| areas.iter().map(|area| drawn_up(area * uses.base(), by_mass)));
    let doses: Vec<f64> = doses.collect();
    // All together is what is measured out for each, so that the papers add up.
    let all = doses.iter().map(|own| numbers::measured(*own)).sum::<f64>();
    let low = doses.iter().copied().reduce(f64::min)?;
    let own = carriers.iter().zip(&doses).map(|((id, _), dose)| (*id, *dose)).collect();
    let sections = areas.len() - specimens;
    all.is_finite().then_some(Need { by_mass, low, own, all, sections, specimens, coats: uses.len() })
}

/// From 1 ml on no syringe has finer marks than a tenth of a millilitre (ISO 7886-1, from memory), so no finer amount is told.
fn drawn_up(amount: f64, by_mass: bool) -> f64 {
    if by_mass || amount < 1.0 { amount } else { (amount * 10.0).round() / 10.0 }
}

impl Need {
    fn unit(&self) -> &'static str {
        if self.by_mass { "g" } else { "ml" }
    }

    /// What the smallest coat is measured with.
    pub(super) fn tool(&self) -> &'static str {
        if self.by_mass {
            return if self.low < 10.0 {
                say!("scale that reads 0.01 g")
            } else {
                say!("scale that reads 0.1 g")
            };
        }
        let larger = [
            (2.0, say!("2 ml syringe")),
            (5.0, say!("5 ml syringe")),
            (10.0, say!("10 ml syringe")),
            (20.0, say!("20 ml syringe")),
            (100.0, say!("100 ml measuring cylinder")),
            (500.0, say!("500 ml measuring cylinder")),
        ];
        let larger = larger.into_iter().find(|(holds, _)| self.low <= *holds).map(|(_, tool)| tool);
        small_tool(self.low, false).or(larger).unwrap_or(say!("measuring jug"))
    }

    /// `0.37 ml` for one coat on any of some sections; where these differ, what each takes, as `0.32 ml on A1 and B2`.
    pub(in crate::report) fn amounts(&self, study: &Study, on: &[SectionId]) -> Vec<String> {
        let mut amounts: Vec<(String, Vec<&str>)> = Vec::new();
        for (id, own) in self.own.iter().filter(|(id, _)| on.contains(id)) {
            let (amount, code) = (dose(*own, self.unit()), study.section(*id).code.as_str());
            match amounts.iter_mut().find(|(known, _)| *known == amount) {
                Some((_, codes)) => codes.push(code),
                None => amounts.push((amount, vec![code])),
            }
        }
        if amounts.len() < 2 {
            return amounts.into_iter().map(|(amount, _)| amount).collect();
        }
        let told = |(amount, codes): (String, Vec<&str>)| {
            say!("{amount} on {sections}", amount, sections = list(&codes, "and"))
        };
        amounts.into_iter().map(told).collect()
    }

    /// The same of all sections.
    pub(super) fn amount(&self, study: &Study) -> String {
        let all: Vec<SectionId> = self.own.iter().map(|(id, _)| *id).collect();
        self.amounts(study, &all).join("; ")
    }

    /// The same with what it is measured with: `0.37 ml (1 ml syringe)`.
    pub(super) fn each(&self, study: &Study) -> String {
        format!("{} ({})", self.amount(study), self.tool())
    }

    /// Whether sections take different amounts.
    pub(super) fn differs(&self) -> bool {
        let shown = |(_, own): &(SectionId, f64)| dose(*own, self.unit());
        self.own.windows(2).any(|pair| shown(&pair[0]) != shown(&pair[1]))
    }

    /// All coats on all sections, ml or g, and true for g.
    pub(super) fn in_all_amount(&self) -> (f64, bool) {
        (self.all, self.by_mass)
    }

    /// Whether specimens are among what is coated.
    pub(super) fn has_specimens(&self) -> bool {
        self.specimens > 0
    }

    /// Whether sections of a panel are.
    pub(super) fn has_sections(&self) -> bool {
        self.sections > 0
    }

    /// `1.5 ml: 2 sections, 2 coats` for everything.
    pub(super) fn in_all(&self) -> String {
        let (carriers, coats) = (carriers(self.sections, self.specimens), count(self.coats, "coat"));
        let all = numbers::with_unit(&numbers::decimal((self.all * 100.0).round() / 100.0), self.unit());
        format!("{all}: {carriers}, {coats}")
    }
}

/// `2 sections, 3 specimens`, of which one may be none.
pub(super) fn carriers(sections: usize, specimens: usize) -> String {
    let kinds = [(sections, "section"), (specimens, "specimen")];
    let told = kinds.into_iter().filter(|(number, _)| *number > 0).map(|(number, noun)| count(number, noun));
    told.collect::<Vec<String>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::{BATCH, Share, Stock, for_batch, holding, of_need};
    use crate::catalog::Catalog;

    fn share(of_mix: f64) -> Share {
        Share { of_mix, by_mass: false, liquid: "water".to_owned(), called: "water".to_owned() }
    }

    #[test]
    fn too_little_of_a_stock_raises_the_batch_and_then_asks_for_a_syringe() {
        let told = |parts: f64| {
            let soap = Stock { name: "soap", class: None, strength: None, density: None };
            for_batch(soap, &of_need(share(1.0 / (1.0 + parts)), None, BATCH), Catalog::built_in())
        };
        assert_eq!(
            told(999.0),
            "for 1 l: some water first, then 1 ml of soap, then top up with water to 1 l"
        );
        assert!(told(4999.0).starts_with("for 10 l: some water first, then 2 ml of soap, "));
        assert!(told(19_999.0).contains("then 0.5 ml of soap (1 ml syringe), "));
    }

    #[test]
    fn a_batch_holds_what_is_needed_and_one_millilitre_of_stock() {
        assert!((holding(3.0, &share(0.5)) - 5.0).abs() < 1e-9);
        assert!((holding(4.9, &share(0.5)) - 10.0).abs() < 1e-9, "a tenth is spare");
        assert!((holding(3.0, &share(0.05)) - 20.0).abs() < 1e-9, "1 ml of 5 % needs 20 ml");
    }

    #[test]
    fn stock_and_filling_make_the_batch() {
        let batch = of_need(share(0.25), Some(3.0), BATCH);
        assert!((batch.stock() + batch.filling() - 5.0).abs() < 1e-9 && (batch.stock() - 1.25).abs() < 1e-9);
        assert!(!batch.is_assumed() && of_need(share(0.25), None, BATCH).is_assumed());
    }
}
