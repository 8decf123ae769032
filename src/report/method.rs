//! The method: how the numbers of the report are made, and what was declared for it.

use super::blocks::{Part, Table, Topic};
use super::comparison::{raters, rule_of_time, rule_words};
use super::gauges::gauges;
use super::leaders;
use super::limits::only_rated;
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style};
use super::panel;
use super::unit_of_tests;
use crate::analysis::{DrawnFrom, FalseWords, MeasureAnalysis, Role};
use crate::diag::Finding;
use crate::speech::{count, list, say};
use crate::study::{Making, Measure, MeasureId, MeasureKind, Study};

pub(super) fn method(material: &Material<'_>) -> Vec<Part> {
    let study = material.study;
    let mut part = Part::new(say!("Method")).about(Topic::Method);
    let mut items: Vec<String> =
        [
            say!("Change: mean of a section at a round minus its own mean at the reference round. Where a measure is read at no such round, as one that destroys its place, levels are compared instead, by the same procedures: what lay under the products is then in the differences."),
            say!("Difference to bare: mean change of a product minus that of the bare sections, with two-sided simultaneous 95 % intervals for all treatments of the table (Dunnett 1955, any numbers of sections). The spread is pooled over all sections treated alike, bare ones included."),
            say!("May lead: constrained simultaneous 95 % intervals of each product's mean minus the best mean among the others (Hsu 1984). A product may lead where the upper end is above zero. Only products compete. Where each group keeps its own spread, the set is instead of those that no other product is ahead of in the table of all pairs."),
            say!("Products against each other: every pair, with two-sided simultaneous 95 % intervals for all pairs (Tukey 1953, Kramer 1956, by the exact studentised range), on the same pooled spread; only such an interval without zero says that one product is worse than another, and where all of it lies within the alike limit, that the difference does not matter. The table against the product to beat shows the pairs that it is one of. Where the study says that spreads differ and, compared within no pieces or sites, every group has 4 sections or more, each group keeps its own spread (Games and Howell 1976), against bare as well. The choice follows the design and what the study says, never the readings."),
            say!("Words, in this order, from the simultaneous interval: alike, if all of it lies within the alike limit; seen, if all of it lies beyond the seen limit on one side; measurable, if it leaves out zero; else not settled."),
            say!("A measure and round that a study names to decide stand alone at 5 %. Other p values in this report, but for those that are adjusted after Holm, stand alone and decide nothing."),
            say!("Holm over looks: the p values of all other differences to bare, and those between products by a measure of which only levels are compared, are adjusted together over the whole report (Holm 1979) and called further looks."),
            rows_of_trends(material),
            &share_held(study),
            say!("Over time: levels count and not changes, since all changes of a section share the error of one reference; time counts in months of 365.2425 / 12 days, from the first round on the coat to the last one read. Rates and levels held are made for each section (least squares; Theil 1950 and Sen 1968; trapezoid rule) and averaged over the sections of a treatment; a section without the last round has none. Trend: Student's t of the mean rate on the spread of the rates between sections, adjusted after Holm; tau (Mann 1945, Kendall 1975) describes the mean of a treatment and tests nothing, since rounds are no sections. A floor is given only where an exponential run fits by least squares and half of the way was gone by the last round over the whole 95 % interval of its rate; it is marked as an extrapolation and never drawn."),
            say!("Time until spent: after the last round passed, up to the first round failed; \"at least\" where the last round read still passed. It is never a point. One figure for a treatment is given from 6 sections on: the stretch in which half of them were spent, by the estimate of most likelihood from those intervals (Turnbull 1976)."),
            say!("Uncertainty of a section mean: spread of its readings, not below the gauge's repeatability, divided by the root of their number (JCGM 100:2008). Of sections of the panel it stands beside the mean in the table of every reading."),
        ]
        .map(str::to_owned)
        .to_vec();
    items.retain(|item| !item.is_empty());
    items.extend(time_rule(study));
    if only_rated(study) {
        items.clear();
        items.extend(time_rule(study));
    }
    items.extend(marks(study));
    items.extend(by_model(material));
    items.extend(rows_of_marks(material));
    items.extend(raters(material));
    items.insert(0, unit_of_tests::unit(study));
    items.extend(unit_of_tests::pooled_within(study));
    items.extend(decimals(material));
    items.extend(dealt(study));
    items.extend(looks_of_marks(material));
    items.extend(leaders::rule(material));
    items.extend(turned(material));
    items.extend((!only_rated(study)).then(|| far_off(material)));
    items.extend(chances(material));
    items.extend(beside(material));
    items.extend(looks(material));
    items.extend(planning(material));
    items.extend(stopped(study));
    items.extend(made(study));
    items.extend(against_blank(material));
    items.extend(colour_levels(study));
    items.extend(bias(material));
    items.extend(panel::method(material));
    part.terms(items);
    let mut parts = vec![part, measures(material), gauges(study)];
    if !study.assumed.is_empty() {
        let mut part = Part::below(say!("Taken by default"));
        part.list(study.assumed.clone());
        parts.push(part);
    }
    parts.retain(|part| !part.blocks.is_empty());
    parts
}

/// What the mixed model beside rates takes for random, where a measure has one.
fn by_model(material: &Material<'_>) -> Option<String> {
    let over = |measure: &MeasureAnalysis| {
        let groups = measure.over_time.as_ref().map(|over| over.groups.as_slice()).unwrap_or_default();
        groups.iter().any(|group| group.by_model.is_some())
    };
    material.analysis.measures.iter().any(over).then(|| {
        say!("Mixed model of levels: a treatment has a mean at each of its rounds, and every section a level of its own about these and a rate that differs at random from that of its treatment, with one spread of rates for all treatments unless spreads differ by the study; restricted maximum likelihood (Patterson and Thompson 1971), degrees of freedom after Satterthwaite (1946). With a random level alone the rounds of a section would count as independent. Where all sections were read at every round, on the same days, it gives the rates over sections, and their intervals unless rates scatter less than levels about them would make them; then they are wider. A section that lacks rounds counts as if it had gone on beside its treatment as before, which holds only where these levels show what it was lost for; its rate is in the spread.").to_owned()
    })
}

/// What a share is, and what its interval rests on.
fn share_held(study: &Study) -> String {
    let spread = if study.spreads_differ {
        say!("the spread is its own, since the study says that spreads differ")
    } else {
        say!("the spread is pooled over all sections treated alike")
    };
    say!(
        "Share held (retention): mean of a section at a round in percent of its own mean at the reference round, averaged over the \
         sections of a treatment, for measures of which more is better. Its 95 % interval (Student's t) holds for each treatment by \
         itself; {spread}.",
        spread
    )
}

/// Over what the p values of trends are adjusted; empty where there is none.
fn rows_of_trends(material: &Material<'_>) -> &'static str {
    if material.analysis.measures.iter().any(|measure| measure.over_time.is_ok()) {
        say!(
            "Holm over rows: the p values of trends over time are adjusted over the rows of their own table, and count among no looks."
        )
    } else {
        ""
    }
}

/// How marks are compared.
fn marks(study: &Study) -> Option<String> {
    let mut judged = study.judged_measures();
    judged.any(|(_, measure)| matches!(measure.kind, MeasureKind::Rating(_))).then(|| {
        say!(
            "Marks: a section stands with the median of its marks of a round, a product with the median of its sections, and all tests are on ranks of sections, equal \
             marks at their mean rank. Whether anything differs: Kruskal and Wallis (1952), or within pieces and sites Skillings and Mack (1981). Each product \
             against bare, and against the one to beat where the study names it: Wilcoxon (1945), Mann and Whitney (1947), or within pieces van Elteren (1960), \
             two-sided; where every treatment stands on every piece alike, and these are too few for that test to show anything, by the ranks over all of \
             them, with what pieces add left in the ranks, which errs to the side of telling nothing apart. The p value is by exchange of the ranks that were given, all ways counted where they are few, else drawn or by the normal \
             distribution, as the table says. There is no interval and no size of a difference, and none is said to lead."
        )
        .to_owned()
    })
}

/// Over what the p values of marks are adjusted.
fn rows_of_marks(material: &Material<'_>) -> Option<String> {
    let tables = || material.analysis.measures.iter().filter_map(|measure| measure.rating.as_ref());
    let decides = tables().any(|table| table.role == Role::Deciding);
    let looks = tables().any(|table| table.role != Role::Deciding);
    let rows = || say!("Holm for marks: where a rating decides, over the rows of its own table (Holm 1979).");
    let among = || {
        say!(
            "Holm for marks: where a rating does not decide, over all further looks of the report, and not once more over the rows of its table."
        )
    };
    match (decides, looks) {
        (true, true) => Some(say!("Holm for marks: where a rating decides, over the rows of its own table (Holm 1979); where it does not, over all further looks of the report, and not once more over its rows.").to_owned()),
        (true, false) => Some(rows().to_owned()),
        (false, true) => Some(among().to_owned()),
        (false, false) => None,
    }
}

/// Which rows of marks count among the further looks.
fn looks_of_marks(material: &Material<'_>) -> Option<String> {
    let tables = material.analysis.measures.iter().filter_map(|measure| measure.rating.as_ref());
    let mut rows = tables.filter(|table| table.role == Role::FurtherLook).flat_map(|table| &table.rows);
    rows.any(|row| row.p.is_some() && !row.able).then(|| {
        say!(
            "Of marks that do not decide, a row counts among the further looks where its numbers of sections allow a p below 5 % at all, whatever the \
             marks. Where they do not it can tell nothing apart, has no p after Holm, and is no look: numbers of sections are known before \
             any mark, so that how marks came out moves the family by nothing."
        )
        .to_owned()
    })
}

/// Which failure a time counts from.
fn time_rule(study: &Study) -> Option<String> {
    let limited = study.judged_measures().any(|(_, measure)| measure.spent.is_some());
    limited.then(|| say!("Which failure counts: {rule}", rule = rule_of_time()))
}

/// What is asked of the order at other rounds.
fn turned(material: &Material<'_>) -> Option<String> {
    let turned = material.analysis.turned.as_ref()?;
    Some(say!(
        "Order at other rounds: every pair of products is tested at every round that was read beside the one that is shown in full ({rounds}), \
         by the procedure of the table of pairs, and p is multiplied by their number (Bonferroni): one family of its own, at 5 %, beside the \
         further looks. The answer names every pair, up to {few}, that stands there against the order at the round shown: told apart the \
         other way, or ahead of one that may lead.",
        rounds = count(turned.rounds.len(), "other round"),
        few = 3
    ))
}

/// How sections that were left to chance came by their products.
fn dealt(study: &Study) -> Option<String> {
    let placed = study.dealing.placed?;
    let (day, seed) = (numbers::day(placed.date), placed.seed);
    let dealt = say!(
        "Layout: on {day} sections were dealt out by constrained chance, seed {seed}. Of many layouts drawn by chance, and bettered by \
         exchanges, that one was taken in which sections of a treatment lie apart, in other rows and columns and around the middle, and \
         bare ones near to all.",
        day,
        seed
    );
    let Some(blocks) = study.dealing.blocks else { return Some(dealt) };
    let blocked = say!(
        "They were ordered by {measure} at {round} first and cut into {number} blocks of {each}, each of which was dealt every product. \
         Blocks are not taken out of the scatter, which makes intervals wider and never narrower.",
        measure = study.measure(blocks.measure).name.value,
        round = names::round(study, blocks.round),
        number = blocks.number,
        each = blocks.each
    );
    Some(format!("{dealt} {blocked}"))
}

/// How finely is told what neither the study nor a gauge says it of.
fn decimals(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let judged = study.judged_measures().filter(|(id, _)| {
        material.analysis.measure(*id).is_some_and(|of| of.fineness.is_some() && !of.groups.is_empty())
    });
    let names: Vec<&str> = judged.map(|(_, measure)| measure.name.value.as_str()).collect();
    (!names.is_empty()).then(|| {
        say!(
            "Decimals of {measures}, of which neither the study nor a gauge states a limit: those in which most readings were written; of what is made \
             of readings, two figures of the least standard error of a mean (JCGM 100:2008, 7.2.6). Levels never print alike for want of one.",
            measures = list(&names, "and")
        )
    })
}

/// What the level of a colour difference is.
fn colour_levels(study: &Study) -> Option<String> {
    let colour = |measure: &Measure| matches!(&measure.kind, MeasureKind::Made(made) if made.making == Making::ColourChange);
    let names: Vec<&str> = study
        .judged_measures()
        .filter(|(_, measure)| colour(measure))
        .map(|(_, measure)| measure.name.value.as_str())
        .collect();
    (!names.is_empty()).then(|| {
        say!(
            "A level of a colour difference ({measures}) is itself counted from the section's own reference, where it is 0 by definition: \
             all its levels share the error of that one reference, and what scatter alone gives is above 0. Its rates, levels held and \
             trends have that in them.",
            measures = list(&names, "and")
        )
    })
}

/// How each measure that nobody reads is made of what is read.
fn made(study: &Study) -> Vec<String> {
    let one = |measure: &Measure| {
        let MeasureKind::Made(made) = &measure.kind else { return None };
        let parts: Vec<&str> =
            made.parts.iter().map(|&part| study.measure(part).name.value.as_str()).collect();
        let (name, of) = (measure.name.value.as_str(), list(&parts, "and"));
        let &[first, second] = parts.as_slice() else {
            return Some(say!("{name} is CIEDE2000 from the section's own reference, of {of}.", name, of));
        };
        let formula = match made.making {
            Making::ShareStopped => format!("100 × (1 − {second} / {first})"),
            Making::Difference => format!("{first} − {second}"),
            Making::Gain => format!("{second} − {first}"),
            Making::PercentGained => format!("100 × ({second} / {first} − 1)"),
            Making::Ratio | Making::ColourChange => format!("{first} / {second}"),
            Making::PercentOf => format!("100 × {first} / {second}"),
        };
        Some(if !made.against_blank {
            say!("{name} is {formula}, of the means of a section.", name, formula)
        } else if made.is_share_of_blank() {
            say!(
                "{name} is {formula}, of the means of a section, where the ratio is taken over that of the bare ones of the same round; \
                 bare is {zero} by definition.",
                name,
                formula,
                zero = if made.making == Making::Ratio {
                    "1"
                } else if made.making == Making::PercentOf {
                    "100 %"
                } else {
                    "0"
                }
            )
        } else {
            say!(
                "{name} is {formula}, of the means of a section, less that of the bare ones of the same round; bare is 0 by definition.",
                name,
                formula
            )
        })
    };
    study.judged_measures().filter_map(|(_, measure)| one(measure)).collect()
}

/// What a share of the blank is as sure as.
fn against_blank(material: &Material<'_>) -> Option<String> {
    let (study, analysis) = (material.study, material.analysis);
    let shares = study.judged_measures().filter(|(id, _)| names::is_share_of_blank(study, *id));
    let shares: Vec<&str> = shares.map(|(_, measure)| measure.name.value.as_str()).collect();
    let own = analysis.measures.iter().filter(|one| names::is_share_of_blank(study, one.measure));
    let tables: Vec<bool> = own
        .flat_map(|measure| &measure.rounds)
        .filter_map(|round| round.to_bare.as_ref().ok())
        .map(|table| table.of_ratios)
        .collect();
    let ratios = if tables.contains(&true) {
        say!(
            " Differences of levels to bare are made of the ratios to it, with simultaneous intervals after Dilba, Bretz and Guiard (2006): Fieller's, \
             with the critical value of the multivariate t whose correlations are those at the ratios found. So the blank's error counts by the \
             share of the blank that a product has. Where that value does not tell the blank itself from 0, no row of the table has an interval."
        )
    } else {
        ""
    };
    let whole = if tables.contains(&false) {
        say!(
            " Where changes are compared, where each group keeps its own spread, or where products are compared within pieces or sites, the blank is \
             one of the groups in the differences to bare, with its scatter and its number: that counts its error whole, while it enters a product's \
             number only by the share of the blank that the product has. Below a share of 1, as of light that a coat holds back, these intervals are \
             therefore wider than 95 % asks, the more so the less gets through, so that too little is told apart; above 1 they are narrower."
        )
    } else {
        ""
    };
    (!shares.is_empty()).then(|| {
        say!(
            "Against the blank ({measures}): a product's number is the ratio of its mean to that of the blank of the same round, and both \
             are uncertain. The interval of one level by itself is that of such a ratio (Fieller 1954); that of a change adds what the \
             bare places of both rounds scatter, by first-order propagation (JCGM 100:2008, 5.1.2, degrees of freedom by G.4.1).{ratios}{whole} \
             Rates and levels held, and differences between products, take the blank as it was read.",
            ratios,
            whole,
            measures = list(&shares, "and")
        )
    })
}

/// Who decides that a patch is stopped.
fn stopped(study: &Study) -> Option<String> {
    let stop = study.cycle.as_ref()?.stop?;
    let name = study.measure(stop.measure).name.value.as_str();
    Some(match study.stop_scale(stop).map(|scale| scale.raters.unwrap_or(1)) {
        Some(raters) if raters > 1 => say!(
            "Stopping a patch: by {name} the median of the marks that its {raters} raters gave it in that cycle decides; between two marks it lies halfway, and nobody's mark decides alone. Readings that are left out do not count.",
            name,
            raters = raters.to_string()
        ),
        Some(_) => say!(
            "Stopping a patch: by {name} the median of its marks in that cycle decides. Readings that are left out do not count.",
            name
        ),
        None => say!(
            "Stopping a patch: by {name} the mean of its readings in that cycle decides. Readings that are left out do not count.",
            name
        ),
    })
}

fn chances(material: &Material<'_>) -> Option<String> {
    let table = material.analysis.chances.as_ref()?.as_ref().ok()?;
    let from = match table.from {
        DrawnFrom::Sections => {
            say!(
                "its sections are drawn with replacement, since every product has 6 or more (Efron 1979), and their mean is set off by what so few leave \
             open of their scatter, by its chi-square distribution"
            )
        }
        DrawnFrom::SharedSpread => {
            say!(
                "the mean is drawn about itself with the pooled spread, which is drawn anew each time by its chi-square \
             distribution; sections themselves are drawn only where every product has 6 or more"
            )
        }
        DrawnFrom::WithinPieces => {
            say!(
                "the mean is drawn about itself with the spread within pieces, which is drawn anew each time by its \
             chi-square distribution"
            )
        }
        DrawnFrom::LinkedPieces => {
            say!(
                "the mean over all pieces alike is drawn about itself together with those of the others, by their covariance, with the \
                 spread within pieces, which is drawn anew each time by its chi-square distribution"
            )
        }
        DrawnFrom::OwnSpreads => {
            say!(
                "the mean is drawn about itself with the product's own spread, which is drawn anew each time by its \
             chi-square distribution, since the study says that spreads differ"
            )
        }
    };
    let alike = table.though_alike.map_or_else(String::new, |found| {
        let left_out = say!(" With these numbers of sections somebody is left out of the set that may lead in {share} of studies though all \
             products are alike (as many draws, the same seed); the leader itself is left out in 5 % at most.", share = numbers::share(found.left_out));
        left_out + &any_false(found)
    });
    Some(say!(
        "Chance of leading: of {count} draws, the share in which a product comes first, or among the first three. For every \
         product {from}. Ties are shared. The generator is xoshiro256++ (Blackman and Vigna 2021) with the seed {seed}; the \
         figures are within 1 in 100 of what more draws would give, and the order of rows does not matter. There is none \
         where the spread has fewer than 3 degrees of freedom.{alike}",
        from,
        alike,
        count = numbers::grouped(table.draws.count),
        seed = table.draws.seed
    ))
}

/// How often the tables are wrong together: each holds at 5 % by itself, and no level holds over all.
fn any_false(found: FalseWords) -> String {
    let (pairs, any) = (numbers::share(found.pairs), numbers::share(found.any));
    found.to_bare.map_or_else(
        || {
            say!(
                " Two products are told apart from each other in {pairs} of them, and at least one table is wrong in {any}.",
                pairs,
                any
            )
        },
        |bare| {
            say!(
                " Where bare is alike too, something is told apart from it in {bare}, two products from each other in {pairs}, and at least \
                 one table is wrong in {any}.",
                bare = numbers::share(bare),
                pairs,
                any
            )
        },
    )
}

// What stands beside the comparison is explained only where it does.
fn beside(material: &Material<'_>) -> Vec<String> {
    let adjusted = material.analysis.adjusted.as_ref().is_some_and(Result::is_ok).then(|| {
        say!("Adjusted for the baseline: analysis of covariance of the section's change on its own baseline, with one slope for \
         all treatments (Snedecor and Cochran 1989). Its intervals are simultaneous over all treatments against bare, as \
         Dunnett's are, with the share that the slope adds to every difference; critical values are integrated.")
            .to_owned()
    });
    let exchange = material.analysis.exchange.as_ref().is_some_and(Result::is_ok).then(|| {
        say!("By exchange: treatments are dealt out anew among the sections that have a number there (Pitman 1937), only in ways that lay \
         no more like products side by side than the map does. The measure of distance is the sum of squares between \
         treatments. Ways that differ only in which product is which of like numbers are one. Up to 50 000 of them are all counted; of more, some are drawn, and the real one counts among them \
         (Phipson and Smyth 2010). It is not offered where it could not come below 5 %.")
            .to_owned()
    });
    adjusted.into_iter().chain(exchange).collect()
}

// Only a report that knows something of it explains it.
fn bias(material: &Material<'_>) -> Option<String> {
    (!material.analysis.panel.biases.is_empty()).then(|| {
        say!("What a gauge itself is off by stands once beside levels, shares held and times until spent, not divided by the number \
         of readings: its drift on the tile since the reference round, taken as a bound on either side (divided by the root \
         of 3), and half of the uncertainty of its certificate, added as squares (JCGM 100:2008, 4.3.7 and 5.1.2). Into a share held goes the \
         drift, and of an offset that one certificate leaves open in both rounds what does not cancel: 100 % less the share, of the \
         reference. Half of the interval of a share and two standard uncertainties of the gauge are added as squares. A time until spent is \
         judged once more with every level two standard uncertainties lower, and higher.")
            .to_owned()
    })
}

/// When a reading counts as far off.
fn far_off(material: &Material<'_>) -> String {
    let study = material.study;
    let read = |id: MeasureId| material.readings.cells().iter().any(|cell| cell.measure == id);
    let silent = study
        .measures_with_ids()
        .filter(|&(id, _)| read(id) && study.gauges_of(id).all(|gauge| gauge.agreement.is_none()));
    let silent: Vec<&str> = silent.map(|(_, measure)| measure.name.value.as_str()).collect();
    let pooled = if silent.is_empty() {
        String::new()
    } else {
        say!(
            " No gauge states how it repeats for {silent}; there the spread within cells, pooled, takes its place.",
            silent = list(&silent, "and")
        )
    };
    say!(
        "A reading is reported as far off where, among 4 or more of a section and round, Grubbs' test (1969), two-sided \
         at 5 %, says so and it also lies farther from the median of the others than the gauge's limit for two readings, \
         2.8 times its spread (ISO 5725-6). Of 2 the pair is held against that limit alone; of 3 the farthest from the mean of \
         the other two against 2.87 times the spread, which 5 of 100 honest sections pass (Nair 1948). So up to 5 of 100 are \
         found by chance. Grubbs' \
         test alone gives only an asterisk in the table of every reading.{pooled} No reading is dropped unless the study \
         leaves it out with a reason; both results are shown.",
        pooled
    )
}

// Only a report that shows such a round in full needs the rule by which its words were counted.
fn looks(material: &Material<'_>) -> Option<String> {
    let (_, round) = material.analysis.shown()?;
    (round.role == Role::FurtherLook && round.to_bare.is_ok()).then(|| {
        say!("Over all looks, where the round shown in full does not decide: measurable holds where the p value after Holm is \
         below 5 %; alike and seen hold where the p value of the difference from their limit, times the number of \
         looks (Bonferroni), is below 5 %.")
            .to_owned()
    })
}

// The number stands in the finding; what it means stands here as well.
fn planning(material: &Material<'_>) -> Option<String> {
    let weak = |finding: &Finding| finding.code == "plan-too-weak";
    let waived = material.waived.iter().map(|waived| &waived.finding);
    material.findings.iter().chain(waived).any(weak).then(|| {
        say!("The smallest difference that a plan tells apart (plan-too-weak) is for the comparison with bare that this report \
         makes: two-sided, simultaneous 5 % (Dunnett 1955), found in 80 of 100 such studies (80 % power, noncentral t).")
            .to_owned()
    })
}

fn measures(material: &Material<'_>) -> Part {
    let study = material.study;
    let mut part = Part::below(say!("Measures"));
    let mut table = Table::new(&[
        say!("Measure"),
        say!("Unit"),
        say!("Direction"),
        say!("Alike"),
        say!("Seen"),
        say!("Spent"),
        say!("Change counts from"),
    ]);
    for (id, measure) in study.judged_measures() {
        let counts = material.analysis.measure(id).is_none_or(|of| of.reference.is_some());
        let style = Style::of(material, id);
        let limit = |limit: Option<f64>, words: fn(String) -> String| {
            let text = |value| words(numbers::with_unit(&numbers::decimal(value), style.unit));
            limit.map_or_else(Figure::none, |value| Figure::from(text(value)))
        };
        table.row(vec![
            Figure::from(measure.name.value.as_str()),
            Figure::from(style.unit),
            Figure::from(names::direction(measure.direction)),
            limit(measure.alike.as_ref().map(|alike| alike.value), |limit| say!("within {limit}", limit)),
            limit(measure.seen.as_ref().map(|seen| seen.value), |limit| say!("from {limit}", limit)),
            spent(measure, style),
            if counts { Figure::from(names::reference(measure.change_from)) } else { Figure::none() },
        ]);
    }
    part.table(table);
    part
}

fn spent(measure: &Measure, style: Style<'_>) -> Figure {
    measure.spent.map_or_else(Figure::none, |rule| Figure::from(rule_words(rule, style)))
}
