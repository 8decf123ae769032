//! What the answer rests on: its unit and scatter, what it lacks, and what leaving readings out changed.

use super::asked::Place;
use super::material::Material;
use super::numbers::Style;
use super::{by_piece, cautions, names};
use crate::analysis::{
    Analysis, Basis, Compared, GroupSeries, LeadRow, LeadTable, MeasureAnalysis, Missing, OddSpread,
    Restored, RoundAnalysis, Strength,
};
use crate::speech::{count, list, plural, say};
use crate::study::{Direction, MeasureKind, ProductId, RoundId, SectionId, Study, Unit};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The unit, and how far sections treated alike scatter.
pub(super) fn rests_on(material: &Material<'_>, at: Place<'_>, round: &RoundAnalysis) -> Option<String> {
    let basis = match (&round.to_bare, &round.lead) {
        (Ok(table), _) => &table.basis,
        (Err(_), Ok(table)) => &table.basis,
        _ => return None,
    };
    let spread = basis.spread?;
    let from: Vec<String> =
        basis.from.iter().map(|&treatment| names::treatment(at.study, treatment)).collect();
    let from = if from.len() > 4 {
        say!("{treatments} with two or more sections", treatments = count(from.len(), "treatment"))
    } else {
        list(&from, "and")
    };
    let style = at.style();
    let mut text = say!(
        "{what} by {sd} (one standard deviation{interval}, {degrees}, from {from}).",
        from,
        what = unit_words(material, at, basis),
        sd = super::numbers::with_unit(
            &super::numbers::fixed(spread.sd, style.decimals + 1),
            style.difference_unit()
        ),
        interval = basis.spread_interval.map_or_else(String::new, |interval| {
            let end = |value| super::numbers::fixed(value, style.decimals + 1);
            say!(", 95 % interval {low} to {high}", low = end(interval.low), high = end(interval.high))
        }),
        degrees = super::numbers::degrees(spread.df)
    );
    let one_site = cautions::sites_asked(material).is_some_and(|sites| sites.read.len() == 1);
    if basis.within_pieces() && at.study.pieces_cross_sites() && !one_site {
        text += say!(" What a site adds is taken out as well.");
    }
    if let Some(more) = by_piece::in_the_scatter(material, style) {
        text += " ";
        text += &more;
    }
    if basis.own_spreads {
        text += say!(
            " That is over all; since the study says that spreads differ, each treatment is judged by its own."
        );
    }
    if let Some(odd) = basis.odd.filter(|_| !basis.own_spreads) {
        text += " ";
        text += &odd_words(at, odd);
    }
    if let Some(stopped) = stopped_words(at, basis) {
        text += " ";
        text += &stopped;
    }
    if let Some(flat) = names::flat(at.study, basis, names::unit(at.study, at.question.measure)) {
        text += " ";
        text += &flat;
    }
    let judged = matches!(basis.strength, Strength::Full | Strength::FewDegrees);
    if at.study.spreads_differ && !basis.own_spreads && judged {
        text += if basis.over_sites {
            say!(
                " The study says that spreads differ; a difference here is an average over sites, of means with one error for all sections, and \
                 so the spread is pooled all the same."
            )
        } else if basis.within_pieces() {
            say!(" The study says that spreads differ; within pieces they are pooled all the same.")
        } else {
            say!(
                " The study says that spreads differ; with fewer than 4 sections to a product or to bare, differences cannot follow \
                 that, and rest on this spread all the same."
            )
        };
    }
    if basis.taken_from_uncoated {
        text += say!(
            " No product has two sections, so coated sections are taken to scatter as these do, which cannot be \
                 checked here."
        );
    }
    Some(text)
}

/// Which treatments are not in the spread, since sections of theirs were stopped.
fn stopped_words(at: Place<'_>, basis: &Basis) -> Option<String> {
    if basis.stopped.is_empty() || basis.own_spreads {
        return None;
    }
    let stopped: Vec<String> =
        basis.stopped.iter().map(|&treatment| names::treatment(at.study, treatment)).collect();
    Some(say!(
        "Nothing of {stopped} is in it, since sections there were stopped before; differences to them rest on how these scatter as well.",
        stopped = list(&stopped, "and")
    ))
}

/// The spread that a table rests on, where it is another than that against bare, which the answer tells.
pub(super) fn own_spread(style: Style<'_>, basis: &Basis, round: &RoundAnalysis) -> Option<String> {
    let bare = round.to_bare.as_ref().ok()?.basis.spread?;
    let own = basis.spread.filter(|own| *own != bare && !basis.own_spreads)?;
    let sd = super::numbers::fixed(own.sd, style.decimals + 1);
    Some(say!(
        "That spread is {sd} on {degrees}, that against bare {other} on {all}.",
        sd = super::numbers::with_unit(&sd, style.difference_unit()),
        degrees = super::numbers::degrees(own.df),
        other = super::numbers::fixed(bare.sd, style.decimals + 1),
        all = super::numbers::degrees(bare.df)
    ))
}

/// One treatment that scatters otherwise than all others, which the spread that they share does not show.
fn odd_words(at: Place<'_>, odd: OddSpread) -> String {
    let style = at.style();
    let text = |sd: f64| {
        super::numbers::with_unit(&super::numbers::fixed(sd, style.decimals + 1), style.difference_unit())
    };
    let (who, own, others) =
        (names::capital(&names::treatment(at.study, odd.treatment)), text(odd.own.sd), text(odd.others.sd));
    if odd.own.sd > odd.others.sd {
        say!(
            "{who} alone scatters by {own}, all others by {others}: with one spread for all, intervals among the others are too wide.",
            who,
            own,
            others
        )
    } else {
        say!(
            "{who} alone scatters by {own}, all others by {others}: with one spread for all, intervals of {who} are too wide.",
            who,
            own,
            others
        )
    }
}

/// What is compared, and what scatters.
fn unit_words(material: &Material<'_>, at: Place<'_>, basis: &Basis) -> String {
    let one_site = cautions::sites_asked(material).is_some_and(|sites| sites.read.len() == 1);
    match at.study.unit(at.question.measure) {
        Unit::Section if at.study.sites_are_in_the_differences() => say!(
            "What differs between sites is in the differences between products, since the sites carry them unevenly; no interval shows \
             it. The unit is the section. Sections treated alike scatter"
        )
        .to_owned(),
        Unit::Section if at.study.loose(at.question.measure).is_some() => say!(
            "The unit is the loose specimen that {measure} is read on, and no section of the panel. Such specimens treated alike scatter",
            measure = at.measure()
        ),
        Unit::Section => say!("The unit is the section. Sections treated alike scatter").to_owned(),
        // What a site adds is in no scatter of one site.
        Unit::Within(_) | Unit::Linked(_) if one_site && !basis.within_pieces() => {
            say!("The unit is the section. Sections treated alike scatter").to_owned()
        }
        Unit::Piece(grouping) => {
            let name = &grouping.name.value;
            say!(
                "The unit is the {name}: each {name} carries one product only, and its sections are averaged. {names} treated \
                 alike scatter",
                name,
                names = names::capital(&plural(2, name))
            )
        }
        Unit::Within(grouping) | Unit::Linked(grouping) if basis.over_sites => {
            let site = &at.study.by_site.as_ref().unwrap_or(grouping).name.value;
            let beside = if at.study.by_site.as_ref() == Some(grouping) {
                String::new()
            } else {
                say!(", beside what their {pieces} add,", pieces = plural(2, &grouping.name.value))
            };
            say!(
                "Every treatment lies more than once at each {site}, so that each difference is the average over these {sites}, every \
                 {site} counting alike: it holds for that average and says nothing about another {site}. Sections that carry the same at \
                 the same {site} scatter{beside}",
                site,
                sites = plural(2, site),
                beside
            )
        }
        Unit::Within(grouping) | Unit::Linked(grouping) if basis.linked() => say!(
            "Products are compared within each {grouping}, by least squares, as sections read here lie on {pieces} unevenly: a product's \
             number is its mean over all {pieces} alike. Beside what the {grouping} adds, sections scatter",
            grouping = grouping.name.value,
            pieces = plural(2, &grouping.name.value)
        ),
        Unit::Linked(grouping) => say!(
            "The unit is the section. The sections read here are too few to compare products within each {grouping}, so \
             that what one {grouping} adds is in the scatter. Sections treated alike scatter",
            grouping = grouping.name.value
        ),
        Unit::Within(grouping) if basis.within_pieces() => say!(
            "Each {grouping} carries the same products, each as often as on any other, so that products are compared within each {grouping}. \
             Beside what the {grouping} adds, sections scatter",
            grouping = grouping.name.value
        ),
        Unit::Within(grouping) => say!(
            "The unit is the section. Each {grouping} was to carry the same products, each as often as on any other; a section is missing \
             here, so that what one {grouping} adds is in the scatter. Sections treated alike scatter",
            grouping = grouping.name.value
        ),
    }
}

pub(super) fn lacking(at: Place<'_>, material: &Material<'_>, round: &RoundAnalysis) -> String {
    // A site that was not read is told as a whole.
    let sites = cautions::sites_asked(material);
    let at_unread = |section: SectionId| sites.as_ref().is_some_and(|sites| sites.lacks(section));
    let Some(measure) = material.analysis.measure(at.question.measure) else { return String::new() };
    let groups = measure.groups.iter().filter_map(|group| group.at.iter().find(|g| g.round == round.round));
    // Where levels are compared, nobody misses a change.
    let changes = measure.compared == Compared::Change;
    let lacking: Vec<String> = groups
        .flat_map(|group| group.lacking.iter().chain(group.lacking_change.iter().filter(move |_| changes)))
        .filter(|(_, why)| !matches!(why, Missing::Stopped | Missing::Ended))
        .filter(|(section, _)| !at_unread(*section))
        .map(|&(section, why)| format!("{} ({})", names::section(at.study, section), names::missing(why)))
        .collect();
    if lacking.is_empty() {
        String::new()
    } else {
        say!("Not in this comparison: {lacking}.", lacking = list(&lacking, "and"))
    }
}

/// Sections that an incident had ended before the round: named with the day, since they are in no comparison.
pub(super) fn ended(study: &Study, measure: &MeasureAnalysis, round: RoundId) -> Option<String> {
    let groups = measure.groups.iter().filter_map(|group| group.at.iter().find(|at| at.round == round));
    let lacking = groups.flat_map(|at| &at.lacking).filter(|(_, why)| *why == Missing::Ended);
    not_counted(study, lacking.filter_map(|&(section, _)| Some((section, study.ended(section)?))))
}

/// `A3 ended on 2 May 2026 and is not counted.`, a sentence for each day.
pub(super) fn not_counted(study: &Study, ended: impl Iterator<Item = (SectionId, Date)>) -> Option<String> {
    let mut days: BTreeMap<Date, Vec<&str>> = BTreeMap::new();
    for (section, day) in ended {
        days.entry(day).or_default().push(names::section(study, section));
    }
    let sentences = days.iter().map(|(&day, codes)| {
        let (day, sections) = (super::numbers::day(day), list(codes, "and"));
        if codes.len() == 1 {
            say!("{sections} ended on {day} and is not counted.", sections, day)
        } else {
            say!("{sections} ended on {day} and are not counted.", sections, day)
        }
    });
    let sentences: Vec<String> = sentences.collect();
    (!sentences.is_empty()).then(|| sentences.join(" "))
}

/// Sections whose readings fell below the gauge, and which way the means of the others are off for it.
pub(super) fn below_gauge(at: Place<'_>, analysis: &Analysis, round: &RoundAnalysis) -> Option<String> {
    let measure = analysis.measure(at.question.measure)?;
    if matches!(at.study.measure(at.question.measure).kind, MeasureKind::Made(_)) {
        return None;
    }
    let of = |group: &GroupSeries| {
        let here = group.at.iter().find(|g| g.round == round.round)?;
        let below = here.lacking.iter().filter(|(_, why)| matches!(why, Missing::BelowGauge));
        let codes: Vec<&str> = below.map(|&(section, _)| names::section(at.study, section)).collect();
        let treatment = names::treatment(at.study, group.treatment);
        (!codes.is_empty()).then(|| say!("{codes} of {treatment}", treatment, codes = list(&codes, "and")))
    };
    let below: Vec<String> = measure.groups.iter().filter_map(of).collect();
    if below.is_empty() {
        return None;
    }
    let head = say!(
        "Fell below what the gauge can tell at {round}: {below}. They have no number, so that the means of the others on the same \
         treatment are too high",
        round = at.round(),
        below = list(&below, "and")
    );
    Some(match at.study.measure(at.question.measure).direction {
        Direction::Higher => say!("{head}, which flatters that treatment.", head),
        Direction::Lower => say!("{head}, which wrongs that treatment.", head),
        Direction::Neither => format!("{head}."),
    })
}

/// Patches that the rule of the cycle had stopped before the round, and how they count.
pub(super) fn stopped(at: Place<'_>, analysis: &Analysis, round: &RoundAnalysis) -> Option<String> {
    let (study, measure) = (at.study, analysis.measure(at.question.measure)?);
    if matches!(study.measure(measure.measure).kind, MeasureKind::Rating(_)) {
        return carried_marks(study, measure, round.round);
    }
    let stopped = carried(study, measure, round.round)?;
    Some(say!(
        "Stopped by the rule of the cycle before {round}: {stopped}. They count on with the value at which they were stopped, in the \
         means and in no scatter of what was read; it is taken that going on would have left them as bad or worse. So a mean with them is a bound \
         and has no interval of its own, and a difference with them has no end on the side to which going on would have moved it, and no p.",
        round = at.round(),
        stopped
    ))
}

/// The same of marks.
pub(super) fn carried_marks(study: &Study, measure: &MeasureAnalysis, round: RoundId) -> Option<String> {
    let stopped = carried(study, measure, round)?;
    Some(say!(
        "Stopped by the rule of the cycle before {round}: {stopped}. They count on with the marks at which they were stopped, in the \
         medians and in the ranks; it is taken that going on would have left them as bad or worse. A product is told apart only where that would \
         widen the difference.",
        round = names::round(study, round),
        stopped
    ))
}

/// The same beside a table of means.
pub(super) fn bounds(study: &Study, measure: &MeasureAnalysis, round: RoundId) -> Option<String> {
    let stopped = carried(study, measure, round)?;
    if matches!(study.measure(measure.measure).kind, MeasureKind::Rating(_)) {
        return Some(say!(
            "Counted on with the mark at which they were stopped: {stopped}. A median with them is a bound.",
            stopped
        ));
    }
    Some(say!(
        "Counted on with the value at which they were stopped: {stopped}. A mean with them is a bound and has no interval of its own.",
        stopped
    ))
}

/// The sections that stand at a round with the number of an earlier one, at which they were stopped: by treatment, each with that round.
fn carried(study: &Study, measure: &MeasureAnalysis, round: RoundId) -> Option<String> {
    let place = measure.rounds.iter().position(|at| at.round == round)?;
    let of = |group: &GroupSeries| {
        let mut since: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
        for section in measure.sections.iter().filter(|one| one.treatment == group.treatment) {
            if section.at.get(place)?.numbers.level != Err(Missing::Stopped) {
                continue;
            }
            if let Some(last) = section.at[..place].iter().rposition(|at| at.numbers.level.is_ok()) {
                since.entry(last).or_default().push(names::section(study, section.section));
            }
        }
        let since = since.iter().map(|(&last, codes)| {
            let at = names::round(study, measure.rounds[last].round);
            say!("{sections} at {at}", at, sections = list(codes, "and"))
        });
        let since: Vec<String> = since.collect();
        let treatment = names::treatment(study, group.treatment);
        (!since.is_empty()).then(|| say!("of {treatment} {sections}", treatment, sections = since.join(", ")))
    };
    let carried: Vec<String> = measure.groups.iter().filter_map(of).collect();
    (!carried.is_empty()).then(|| carried.join("; "))
}

pub(super) fn put_back(at: Place<'_>, analysis: &Analysis, restored: &Restored) -> String {
    let n = restored.left_out;
    let readings = count(n, "reading");
    let head = if n == 1 {
        say!("{readings} is left out, with a reason.", readings)
    } else {
        say!("{readings} are left out, with a reason.", readings)
    };
    let before = analysis.deciding().and_then(|(_, round)| round.lead.as_ref().ok());
    let now = leaders(before);
    let then = leaders(restored.lead.as_ref().ok());
    let moved = moved(at, before, restored.lead.as_ref().ok());
    let them = if n == 1 { say!("With it put back") } else { say!("With them put back") };
    let told = match (now, then) {
        (Some(now), Some(then)) if now == then => {
            let alike = restored.lead.as_ref().is_ok_and(|table| table.all_alike == Some(true));
            let all = restored.lead.as_ref().is_ok_and(|table| table.rows.len() == then.len());
            match analysis.answer.all_alike() {
                true if alike => say!("{head} {them}, the products are alike as well.", head, them),
                true => say!("{head} {them}, the products are not shown to be alike.", head, them),
                false if all => say!("{head} {them}, no product is told from the others either.", head, them),
                false => say!("{head} {them}, the same products may lead.", head, them),
            }
        }
        (_, Some(then)) => {
            let products = list(&names::products(at.study, &then), "and");
            say!("{head} {them}, these may lead: {products}.", head, them, products)
        }
        _ => say!("{head} Both results stand below.", head),
    };
    told + &moved
}

/// What putting readings back does to the number of a product, as far as it shows.
fn moved(at: Place<'_>, now: Option<&LeadTable>, then: Option<&LeadTable>) -> String {
    let (Some(now), Some(then)) = (now, then) else { return String::new() };
    let style = at.style();
    let one = |row: &LeadRow| {
        let text = |value| style.compared(value, at.compared).text;
        let back = then.rows.iter().find(|back| back.product == row.product)?;
        let (without, with) = (text(row.change), text(back.change));
        let name = names::product(at.study, row.product);
        (without != with).then(|| {
            say!(
                "{name} from {without} to {with}",
                name,
                without,
                with = super::numbers::with_unit(&with, style.unit)
            )
        })
    };
    let moved: Vec<String> = now.rows.iter().filter_map(one).collect();
    if moved.is_empty() { String::new() } else { say!(" That moves {moved}.", moved = list(&moved, "and")) }
}

pub(super) fn leaders(table: Option<&LeadTable>) -> Option<Vec<ProductId>> {
    table.and_then(|table| table.may_lead.as_ref().ok().cloned())
}

/// The products that are not said to lead since sections of theirs were stopped before the round.
pub(super) fn bound(study: &Study, table: &LeadTable, round: &str) -> Option<String> {
    let products = list(&names::products(study, &table.bound), "and");
    (!table.bound.is_empty()).then(|| {
        say!(
            "By the values at which patches of {products} were stopped before {round} no product is said to lead, and none to fall short \
             of the best: they are bounds, and it is taken that going on would have left them as bad or worse. What is ahead of them \
             even so stands in the table of all pairs.",
            products,
            round
        )
    })
}
