//! What the answer must not be silent of: what goes with a treatment, a site that was not read, and harm that another look shows.

use super::asked::Place;
use super::blocks::Topic;
use super::claim::Claim;
use super::leaders::Shared;
use super::material::Material;
use super::names;
use crate::analysis::{MeasureAnalysis, Missing, Role, RoundAnalysis, RoundState, SectionSeries, Side};
use crate::readings::{self, Confounded, GoesWith, Tied, confounded};
use crate::speech::{count, list, say};
use crate::study::{ProductId, SectionId, Study, Treatment};

/// More treatments than this are counted and not named.
const FEW: usize = 4;

/// What ties products that may lead at a round to who read them.
pub(super) struct TiedWords {
    tied: Vec<Tied>,
    /// Those that may lead.
    leaders: Vec<ProductId>,
    /// Where the comparison stands with it; no sentence twice.
    pub(super) sentences: Vec<String>,
}

/// The same among the products of a table.
pub(super) fn tied_to(
    material: &Material<'_>,
    at: Place<'_>,
    round: &RoundAnalysis,
    leaders: &[ProductId],
) -> TiedWords {
    let study = material.study;
    let compared = round.lead.as_ref().map_or(&[][..], |table| table.rows.as_slice());
    let compared: Vec<ProductId> = compared.iter().map(|row| row.product).collect();
    let where_read = (at.question.measure, round.round);
    let tied = if leaders.len() < compared.len() {
        readings::tied((study, material.readings), where_read, &compared, leaders)
    } else {
        Vec::new()
    };
    let sentences = tied.iter().map(|one| tied_sentence(study, one)).collect();
    TiedWords { tied, leaders: leaders.to_vec(), sentences }
}

/// The same of the headline: at the round of the question, or at the last one that all products share.
pub(super) fn tied(
    material: &Material<'_>,
    at: Place<'_>,
    round: &RoundAnalysis,
    (leaders, of_shared): (&[ProductId], bool),
) -> TiedWords {
    let shared = round.lead.as_ref().ok().filter(|_| of_shared);
    match shared.and_then(|table| Shared::of(material, at, table)) {
        Some(shared) => tied_to(material, at, shared.analysed, shared.leaders),
        None => tied_to(material, at, round, leaders),
    }
}

impl TiedWords {
    /// The headline of one product that may lead, or of several, none of which was read as the others were.
    pub(super) fn headline(&self, headline: String) -> String {
        let all = |one: &&Tied| one.whole() && self.leaders.iter().all(|id| one.products.contains(id));
        match self.tied.iter().find(all).map(|one| (one.what, self.leaders.len())) {
            None => headline,
            Some((GoesWith::Gauge, 1)) => {
                say!("{headline}, and cannot be told apart from the gauge that read it", headline)
            }
            Some((GoesWith::Gauge, _)) => {
                say!("{headline}, and cannot be told apart from the gauge that read them", headline)
            }
            Some((_, 1)) => say!("{headline}, and cannot be told apart from who read it", headline),
            Some(_) => say!("{headline}, and cannot be told apart from who read them", headline),
        }
    }

    /// Whether a person or gauge is told of already.
    fn tells(&self, found: &Confounded) -> bool {
        self.tied.iter().any(|one| one.what == found.what && one.names.contains(&found.name))
    }
}

fn tied_sentence(study: &Study, one: &Tied) -> String {
    let products = list(&names::products(study, &one.products), "and");
    let round = names::round(study, one.round);
    let name = list(&one.names, "and");
    if one.names.is_empty() {
        return say!(
            "At {round} no other product was read as {products} was, by the same people or gauges: what these read otherwise cannot be \
             told from what {products} did.",
            round,
            products
        );
    }
    if one.whole() && one.nothing_else {
        say!(
            "{name} read {products} at {round}, and nothing else: what {products} did cannot be told from how {name} read.",
            products,
            name,
            round
        )
    } else if one.whole() {
        say!(
            "{name} read {products} at {round}, and no other product: what {products} did cannot be told from how {name} read.",
            products,
            name,
            round
        )
    } else {
        say!(
            "{name} read {n} of the {sections} of {products} at {round}, and no other product: how {name} read is in that mean.",
            products,
            name,
            round,
            n = one.sections,
            sections = count(one.of, "section")
        )
    }
}

/// A claim for each person, gauge or hand that took all of some treatments and nothing of others at the round of the question, without
/// those that are told of already.
pub(super) fn goes_with(material: &Material<'_>, at: Place<'_>, told: Option<&TiedWords>) -> Vec<Claim> {
    let mut found = confounded(material.study, material.readings, at.question.measure, at.question.round);
    found.retain(|one| told.is_none_or(|told| !told.tells(one)));
    let named = |treatments: &[Treatment]| match treatments.len() {
        n if n > FEW => count(n, "treatment"),
        _ => {
            let names = treatments.iter().map(|&treatment| names::treatment(material.study, treatment));
            list(&names.collect::<Vec<_>>(), "and")
        }
    };
    let words = |one: &Confounded| {
        // Initials have points, which end the first clause of a claim; so the name stands behind it.
        let (name, all, none) = (&one.name, named(&one.all_of), named(&one.none_of));
        let text = match one.what {
            GoesWith::Hand => say!(
                "All of {all}, and none of {none}, was put on by {name}: what that hand does otherwise is in their differences.",
                name,
                all,
                none
            ),
            GoesWith::Reader | GoesWith::Gauge => say!(
                "All of {all}, and none of {none}, was read by {name} at {round}: what {name} reads otherwise is in their differences.",
                name,
                all,
                none,
                round = at.round()
            ),
        };
        Claim::new(text, Topic::Findings)
    };
    found.iter().map(words).collect()
}

/// The sites of which something was read at a round, and those of which nothing was, each with its sections.
pub(super) struct Sites<'s> {
    pub(super) read: Vec<&'s str>,
    pub(super) unread: Vec<(&'s str, Vec<SectionId>)>,
}

/// `None` where all sites were read, or none.
pub(super) fn sites<'s>(
    material: &Material<'s>,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Option<Sites<'s>> {
    let sites = material.study.by_site.as_ref()?;
    let place = measure.rounds.iter().position(|one| one.round == round.round)?;
    let has = |section: &SectionId| {
        let series = measure.sections.iter().find(|series| series.section == *section);
        let level = series.and_then(|series| series.at.get(place)).map(|at| at.numbers.level);
        level.is_some_and(|level| level != Err(Missing::NotRead))
    };
    let (read, unread): (Vec<_>, Vec<_>) =
        sites.pieces().into_iter().partition(|(_, sections)| sections.iter().any(has));
    let read: Vec<&str> = read.into_iter().map(|(site, _)| site).collect();
    (!read.is_empty() && !unread.is_empty()).then_some(Sites { read, unread })
}

/// The sites at the round of the question.
pub(super) fn sites_asked<'s>(material: &Material<'s>) -> Option<Sites<'s>> {
    let (measure, round) = material.analysis.deciding()?;
    sites(material, measure, round)
}

impl Sites<'_> {
    /// The headline, with the sites that it holds for.
    pub(super) fn headline(&self, headline: &str) -> String {
        say!("{headline}, at {sites} alone", headline, sites = list(&self.read, "and"))
    }

    /// What was not read.
    pub(super) fn sentence(&self, round: &str) -> String {
        let sections: usize = self.unread.iter().map(|(_, sections)| sections.len()).sum();
        let unread: Vec<&str> = self.unread.iter().map(|(site, _)| *site).collect();
        say!(
            "At {round} nothing was read at {unread} ({sections}): the answer holds for {read}.",
            round,
            unread = list(&unread, "and"),
            sections = count(sections, "section"),
            read = list(&self.read, "and")
        )
    }

    /// The same beside a table.
    pub(super) fn nothing(&self, round: &str) -> String {
        let sections: usize = self.unread.iter().map(|(_, sections)| sections.len()).sum();
        let unread: Vec<&str> = self.unread.iter().map(|(site, _)| *site).collect();
        say!(
            "At {round} nothing was read at {unread} ({sections}).",
            round,
            unread = list(&unread, "and"),
            sections = count(sections, "section")
        )
    }

    /// Whether a section stands at a site of which nothing was read.
    pub(super) fn lacks(&self, section: SectionId) -> bool {
        self.unread.iter().any(|(_, sections)| sections.contains(&section))
    }
}

/// Products that stood at some of the sites only while others stood at more: what is told of them over all sites was never measured there.
pub(super) fn at_fewer_sites(material: &Material<'_>, at: Place<'_>) -> Vec<Claim> {
    let study = material.study;
    let found = material.analysis.deciding().zip(study.by_site.as_ref());
    let Some(((measure, round), by_site)) =
        found.filter(|_| study.measure(at.question.measure).home.is_none())
    else {
        return Vec::new();
    };
    let Some(place) = measure.rounds.iter().position(|one| one.round == round.round) else {
        return Vec::new();
    };
    let has = |section: &&SectionSeries| section.at[place].numbers.level.is_ok();
    let read: Vec<&SectionSeries> = measure.sections.iter().filter(has).collect();
    let sites = by_site.pieces();
    let at_site = |of: &[SectionId], treatment: Option<Treatment>| {
        let own = |series: &&SectionSeries| {
            of.contains(&series.section) && treatment.is_none_or(|treatment| series.treatment == treatment)
        };
        read.iter().copied().any(|series| own(&series))
    };
    let linked = round.lead.as_ref().is_ok_and(|table| table.basis.linked())
        || round.to_bare.as_ref().is_ok_and(|table| table.basis.linked());
    let of = |id: ProductId| {
        let (mut stood, mut lacks) = (Vec::new(), Vec::new());
        for (site, sections) in sites.iter().filter(|(_, sections)| at_site(sections, None)) {
            if at_site(sections, Some(Treatment::Product(id))) { &mut stood } else { &mut lacks }.push(*site);
        }
        if stood.is_empty() || lacks.is_empty() {
            return None;
        }
        let (name, stood, lacks) = (names::product(study, id), list(&stood, "and"), list(&lacks, "and"));
        let text = if linked {
            say!(
                "{name} was read at {stood} only. Its numbers over all sites take it to act at {lacks} as the others do, where nobody has \
                 measured it: what was read of it holds for {stood}.",
                name,
                stood,
                lacks
            )
        } else {
            say!(
                "{name} was read at {stood} only and not at {lacks}: what {stood} does otherwise is in its numbers and in every difference to others.",
                name,
                stood,
                lacks
            )
        };
        Some(Claim::new(text, Topic::Change))
    };
    study.products_with_ids().filter_map(|(id, _)| of(id)).collect()
}

/// Where a product that may lead is told apart as worse than bare by another measure, or later, with all looks counted.
pub(super) fn worse_elsewhere(material: &Material<'_>, leaders: &[ProductId]) -> Option<Claim> {
    let study = material.study;
    let asked = material.analysis.deciding()?;
    let look = |measure: &&MeasureAnalysis| {
        let last = measure.rounds.iter().rposition(|round| round.state == RoundState::Read)?;
        let deciding = measure.rounds.iter().position(|round| round.round == asked.1.round);
        let own = measure.measure == asked.0.measure;
        let round =
            measure.rounds.get(last).filter(|_| !own || deciding.is_some_and(|asked| asked < last))?;
        let table = round.to_bare.as_ref().ok().filter(|_| round.role == Role::FurtherLook)?;
        let worse =
            table.rows.iter().filter(|row| row.side == Side::Worse && row.p_holm.is_some_and(|p| p < 0.05));
        let worse: Vec<ProductId> = worse
            .filter_map(|row| match row.treatment {
                Treatment::Product(id) if row.word.is_ok() => Some(id),
                _ => None,
            })
            .filter(|id| leaders.contains(id))
            .collect();
        (!worse.is_empty()).then(|| {
            say!(
                "{products} did worse than bare by {measure} at {round}",
                products = list(&names::products(study, &worse), "and"),
                measure = names::measure(study, measure.measure),
                round = names::round(study, round.round)
            )
        })
    };
    let told: Vec<String> = material.analysis.measures.iter().filter_map(|measure| look(&measure)).collect();
    (!told.is_empty()).then(|| {
        let text = say!("{told}, by a further look (Holm).", told = told.join("; "));
        Claim::new(text, Topic::Looks)
    })
}
