//! Patches that the rule of the cycle stops: those that last do not stand for those that did not.

use tapeline::analysis::{Analysis, Farther, Gone, Missing, Spent, Strength, Word, analyse};
use tapeline::diag::has_errors;
use tapeline::pipeline::{self, Day, Outcome};
use tapeline::study::Treatment;

const STUDY: &str = r#"study "Plates"
    begins 2026-03-02
    decide by haze on spray+gel at cycle 3
surface plates
    each 300 x 200 mm
product bay
product clove
map rack 2 rows of 4
    | bay   clove bare bay  |
    | clove bare  bay  clove |
marker spray "Red spray", an acetone
    leave 24 h
supply gel, a solvent wipe
    dwell 5 min
measure haze in dE00
    lower is better
    change from fresh
patches in each plate  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm
    | spray+gel |
cycle, up to 3 times
    mark each patch with its marker
    clean each patch with its cleaner, rinse
    read haze once
    stop a patch when haze is above 5 dE00
rounds
    baseline before apply  haze once
    fresh 8 days after apply  haze once
apply
    on 2026-03-03
readings "rows.csv"
"#;

/// Readings of each plate at fresh and after each cycle; a patch that was stopped has no more.
const READ: [(&str, &[f64]); 8] = [
    ("A1", &[0.0, 0.5, 1.0, 1.5]),
    ("A4", &[0.0, 0.6, 1.1, 1.7]),
    ("B3", &[0.0, 0.4, 1.2, 1.6]),
    ("A2", &[0.0, 2.0, 6.0]),
    ("B1", &[0.0, 2.2, 7.0]),
    ("B4", &[0.0, 0.2, 0.3, 0.4]),
    ("A3", &[0.0, 6.0]),
    ("B2", &[0.0, 8.0]),
];

fn analysis() -> Analysis {
    analysed(STUDY, &READ)
}

fn analysed(text: &str, read: &[(&str, &[f64])]) -> Analysis {
    let outcome = checked(text, read);
    analyse(&outcome.study, &outcome.readings, outcome.day.as_of())
}

/// The report as text.
fn told(text: &str, read: &[(&str, &[f64])]) -> String {
    let artifacts = checked(text, read).build(Some(&["report.md"])).unwrap();
    String::from_utf8(artifacts.into_iter().next().unwrap().bytes).unwrap()
}

fn checked(text: &str, read: &[(&str, &[f64])]) -> Outcome {
    let mut csv = String::from("date,round,section,measure,value\n");
    let rounds = [
        ("2026-03-11", "fresh"),
        ("2026-03-13", "cycle 1"),
        ("2026-03-15", "cycle 2"),
        ("2026-03-17", "cycle 3"),
    ];
    for (code, values) in read {
        csv += &format!("2026-03-02,baseline,{code} / a1,haze,0\n");
        for ((date, round), value) in rounds.iter().zip(*values) {
            csv += &format!("{date},{round},{code} / a1,haze,{value}\n");
        }
    }
    let files = [("rows.csv".to_owned(), csv.into_bytes())];
    let outcome = pipeline::check("plates.study", text, &files, Day::AsOf("2026-04-01".parse().unwrap()));
    assert!(!has_errors(&outcome.findings), "{:#?}", outcome.findings);
    assert!(outcome.findings.iter().all(|one| one.code != "cell-missing"), "{:#?}", outcome.findings);
    outcome
}

#[test]
fn a_stopped_patch_counts_with_the_value_at_which_it_was_stopped() {
    let analysis = analysis();
    let (measure, round) = analysis.deciding().unwrap();
    let at = |treatment: Treatment| {
        let group = measure.groups.iter().find(|group| group.treatment == treatment).unwrap();
        group.at.iter().find(|at| at.round == round.round).unwrap()
    };
    let treatments: Vec<Treatment> = measure.groups.iter().map(|group| group.treatment).collect();
    let means: Vec<f64> = treatments.iter().map(|&one| at(one).change.unwrap().mean).collect();
    // Bay (1.5 + 1.7 + 1.6) / 3; clove (6 + 7 + 0.4) / 3, two of them stopped after cycle 2; bare (6 + 8) / 2.
    let wanted = [1.6, 13.4 / 3.0, 7.0];
    assert!(means.iter().zip(wanted).all(|(mean, wanted)| (mean - wanted).abs() < 1e-12), "{means:?}");
    let lacking: Vec<usize> = treatments.iter().map(|&one| at(one).lacking.len()).collect();
    assert_eq!(lacking, [0, 2, 2]);
    assert!(treatments.iter().flat_map(|&one| &at(one).lacking).all(|(_, why)| *why == Missing::Stopped));
    // The one patch of clove that lasted is the lowest of all, and does not make it the leader.
    let lead = round.lead.as_ref().unwrap();
    let leads: Vec<bool> = lead.rows.iter().map(|row| row.lead > 0.0).collect();
    assert_eq!(leads, [true, false]);
}

/// Bare stands at the 7.0 of cycle 1 and clove in part at that of cycle 2: neither is put beside the +1.6 of bay at cycle 3.
#[test]
fn what_was_stopped_is_told_with_the_round_of_its_stop_and_beside_nothing_of_a_later_one() {
    let analysis = analysis();
    let (measure, round) = analysis.deciding().unwrap();
    let carried = |group: &tapeline::analysis::GroupSeries| {
        group.at.iter().find(|at| at.round == round.round).unwrap().change.unwrap().carried
    };
    assert_eq!(measure.groups.iter().map(carried).collect::<Vec<_>>(), [0, 2, 2]);
    let report = told(STUDY, &READ);
    let heading = report.lines().find(|line| line.starts_with("## Haze on spray+gel changed")).unwrap();
    assert!(heading.ends_with("; stopped before: clove (2 of 3) and bare"), "{heading}");
    assert!(!heading.contains("bare sections"), "{heading}");
    let row = report.lines().find(|line| line.starts_with("| bare | +")).unwrap();
    assert!(row.contains("| ≥ +7"), "{row}");
}

#[test]
fn a_run_is_counted_by_cycles_and_leaves_out_what_was_stopped() {
    let analysis = analysis();
    let (measure, _) = analysis.deciding().unwrap();
    let over = measure.over_time.as_ref().unwrap();
    let bay = over.groups.first().unwrap();
    // Levels 0, 0.5, 1.0, 1.5 over cycles 0 to 3 rise by 0.5 a cycle; 0, 0.6, 1.1, 1.7 by 0.56; 0, 0.4, 1.2, 1.6 by 0.56.
    assert!((bay.rate.unwrap().mean - (0.5 + 0.56 + 0.56) / 3.0).abs() < 1e-12, "{bay:?}");
    assert_eq!(over.groups.iter().map(|group| group.lacking.len()).collect::<Vec<_>>(), [0, 2, 2]);
}

/// Five sections of bay read to the end, all three of clove and both of bare stopped before: -0.5 from bare to clove, by their values then.
fn wide() -> (String, Vec<(&'static str, &'static [f64])>) {
    let text = STUDY
        .replace("2 rows of 4", "2 rows of 5")
        .replace("| bay   clove bare bay  |", "| bay   clove bare bay  bay |")
        .replace("| clove bare  bay  clove |", "| clove bare  bay  clove bay |");
    let mut read = READ.to_vec();
    read[5] = ("B4", &[0.0, 2.1, 6.5]);
    read.extend([("A5", [0.0, 0.5, 1.1, 1.4].as_slice()), ("B5", [0.0, 0.6, 1.0, 1.8].as_slice())]);
    (text, read)
}

/// Bay scatters at cycle 3 by 1.5, 1.7, 1.6, 1.4 and 1.8: variance 0.1 / 4. Clove stopped at 6, 7, 6.5 and bare at 6, 8: 2.5 / 3. Bay less
/// bare is -5.4, with the error of 0.025 / 5 + 0.8333 / 2 = 0.42167 on 3.0721 degrees of freedom, and Dunnett's value of two rows
/// (integrated in R 4.2.2 by outer products of `pnorm`, `dnorm` and `dchisq`) 3.7321: an end at -2.977. Bay less clove by Tukey for two
/// products, which is Student's t on 3.1082: -3.241 (R `qt`). Pooled with the values of the stop, as if they had been read, the ends would lie
/// at other places on 7 degrees of freedom.
#[test]
fn what_is_read_scatters_by_itself_and_a_difference_to_a_bound_has_the_error_of_both() {
    let (text, read) = wide();
    let analysis = analysed(&text, &read);
    let (_, round) = analysis.deciding().unwrap();
    let table = round.to_bare.as_ref().unwrap();
    let spread = table.basis.spread.unwrap();
    assert!((spread.sd.powi(2) - 0.025).abs() < 1e-12 && (spread.df - 4.0).abs() < 1e-12, "{spread:?}");
    let stopped = table.basis.stopped_spread.unwrap();
    assert!(
        (stopped.sd.powi(2) - 2.5 / 3.0).abs() < 1e-12 && (stopped.df - 3.0).abs() < 1e-12,
        "{stopped:?}"
    );
    assert_eq!((table.basis.from.len(), table.basis.stopped.len()), (1, 2));
    let bay = table.rows[0];
    assert!((bay.difference + 5.4).abs() < 1e-12 && bay.farther == Farther::Down, "{bay:?}");
    assert!((bay.interval.unwrap().high + 2.977).abs() < 2e-3, "{bay:?}");
    let pairs = analysis.between.as_ref().unwrap().as_ref().unwrap();
    assert!((pairs.rows[0].interval.unwrap().high + 3.2405).abs() < 1e-3, "{pairs:?}");
    // Mean 1.6, t on 4 degrees 2.7764, sd over the root of 5: 0.1963 to either side.
    let bay = measure_of(&analysis, 0).interval.unwrap();
    assert!((bay.high - 1.7963).abs() < 1e-3 && (bay.low - 1.4037).abs() < 1e-3, "{bay:?}");
}

fn measure_of(analysis: &Analysis, at: usize) -> tapeline::analysis::GroupValue {
    let (measure, round) = analysis.deciding().unwrap();
    let group = &measure.groups[at];
    group.at.iter().find(|at| at.round == round.round).unwrap().change.unwrap()
}

/// Alike within 10 dE00 takes in the whole of what the interval would be with both ends: with one open it is told by zero alone.
#[test]
fn an_open_interval_without_zero_is_told_however_wide_alike_is() {
    let (text, read) = wide();
    for alike in ["3", "10"] {
        let limit = format!("    change from fresh\n    alike within {alike} dE00\n");
        let analysis = analysed(&text.replace("    change from fresh\n", &limit), &read);
        let (_, round) = analysis.deciding().unwrap();
        assert_eq!(round.to_bare.as_ref().unwrap().rows[0].word, Ok(Word::Measurable));
        assert_eq!(analysis.between.unwrap().unwrap().rows[0].word, Ok(Word::Measurable));
    }
}

/// Bay is read, clove a bound: bay leads by at least 6.5 - 1.6, and clove by at most as much less.
#[test]
fn a_lead_over_a_bound_is_one_and_exchange_names_what_was_stopped() {
    let (text, read) = wide();
    let report = told(&text, &read);
    let table = report.split("## One of 2 products may lead at cycle 3\n").nth(1).unwrap();
    let row = |name: &str| table.lines().find(|line| line.starts_with(name)).unwrap();
    assert!(row("| bay |").contains("| ≥ +4.9 |"), "{}", row("| bay |"));
    assert!(row("| clove |").contains("| ≤ −4.9 |"), "{}", row("| clove |"));
    assert!(table.contains("What is ahead of them even so stands in the table of all pairs."), "{table}");
    let exchange = analysed(&text, &read).exchange.unwrap().unwrap();
    assert_eq!((exchange.sections, exchange.stopped), (10, 5));
    assert!(report.contains("Of these sections 5 had been stopped before and take part"), "{report}");
}

/// Bare is read to the end and clove stopped after cycle 2, so that of the four looks at cycles 2 and 3 one has a side that was stopped: it
/// counts as 1, and the three others by Holm's rule (1979), worked out anew here: the smallest times 4, the next times 3, then 2.
#[test]
fn a_row_with_a_bound_counts_among_the_looks_as_one() {
    let (text, mut read) = wide();
    read[6] = ("A3", &[0.0, 2.0, 3.0, 3.0]);
    read[7] = ("B2", &[0.0, 2.4, 3.6, 4.1]);
    let text = text.replace("at cycle 3", "at cycle 1");
    let analysis = analysed(&text, &read);
    let (measure, _) = analysis.deciding().unwrap();
    let looks = measure.rounds.iter().filter_map(|round| round.to_bare.as_ref().ok());
    let rows: Vec<_> = looks.flat_map(|table| &table.rows).filter(|row| row.p_holm.is_some()).collect();
    assert_eq!((rows.len(), analysis.further_looks), (4, 4), "{rows:?}");
    let [.., clove] = rows.as_slice() else { panic!("{rows:?}") };
    assert_eq!((clove.farther, clove.p, clove.p_holm), (Farther::Up, Some(1.0), Some(1.0)));
    let mut read_rows: Vec<(f64, f64)> = rows
        .iter()
        .filter(|row| row.farther == Farther::No)
        .map(|row| (row.p.unwrap(), row.p_holm.unwrap()))
        .collect();
    read_rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert!(read_rows.len() == 3 && read_rows.iter().all(|row| row.0 < 1.0), "{read_rows:?}");
    let mut least: f64 = 0.0;
    for ((p, holm), times) in read_rows.into_iter().zip([4.0, 3.0, 2.0]) {
        least = least.max(p * times).min(1.0);
        assert!((holm - least).abs() < 1e-12, "{p} {holm} {least}");
    }
    assert!(told(&text, &read).contains("| counted as 1 |"));
}

/// Three sections of bay alone were read to the end: two degrees of freedom carry intervals and no words.
#[test]
fn a_round_at_which_too_little_was_left_has_no_words() {
    let analysis = analysis();
    let (_, round) = analysis.deciding().unwrap();
    let table = round.to_bare.as_ref().unwrap();
    assert_eq!((table.basis.strength, table.rows[0].word), (Strength::FewDegrees, Err(Strength::FewDegrees)));
    assert_eq!(table.rows[0].p, Some(1.0));
    assert_eq!(round.lead.as_ref().unwrap().may_lead, Err(Strength::FewDegrees));
    // One section of bay is left, and nothing scatters.
    let mut read = READ;
    read[1] = ("A4", &[0.0, 6.0]);
    read[2] = ("B3", &[0.0, 7.0]);
    let (text, analysis) = (told(STUDY, &read), analysed(STUDY, &read));
    let (_, round) = analysis.deciding().unwrap();
    assert_eq!(round.to_bare.as_ref().unwrap().basis.strength, Strength::FewLeft);
    assert!(text.contains("[No treatment has two sections of which none was stopped before]"), "{text}");
}

#[test]
fn a_value_that_is_carried_forward_is_a_bound_and_carries_no_word_that_it_could_break() {
    // Clove 6, 7 and 6.5 against bare 6 and 8, all stopped: -0.5, which would be alike within 3 if they were values.
    let (text, read) = wide();
    let text = text.replace("    change from fresh\n", "    change from fresh\n    alike within 3 dE00\n");
    let analysis = analysed(&text, &read);
    let (_, round) = analysis.deciding().unwrap();
    let table = round.to_bare.as_ref().unwrap();
    let [bay, clove] = table.rows.as_slice() else { panic!("{table:?}") };
    assert!((clove.difference + 0.5).abs() < 1e-12);
    // Both could only have gone on, either of them farther than the other: no end is known.
    assert_eq!((clove.interval, clove.farther, clove.p), (None, Farther::Either, Some(1.0)));
    assert_eq!(clove.word, Err(Strength::Bound));
    // Bare would have gone up, and the difference of bay to it down: it is at most so much.
    let interval = bay.interval.unwrap();
    assert!(interval.low == f64::NEG_INFINITY && interval.high < 0.0, "{interval:?}");
    let report = told(&text, &read);
    assert!(report.contains("| ≤ −") && report.contains("the difference has no end on that side, and no p"));
    // Bay was read to the end, and bare could only have become worse: the difference is at least so large.
    assert_eq!(bay.word, Ok(Word::Measurable));
    // Bay against clove is told likewise, with clove as the one that was stopped.
    let words: Vec<_> = analysis.between.unwrap().unwrap().rows.iter().map(|row| row.word).collect();
    assert_eq!(words, [Ok(Word::Measurable)]);
}

/// Spent above 7.5, while the rule stops a patch above 5: A2 stopped at 6 and B1 at 7 did not fail, B2 at 8 did.
#[test]
fn a_patch_that_was_stopped_within_its_limit_is_not_among_those_that_held() {
    let text = STUDY.replace("    change from fresh\n", "    change from fresh\n    spent above 7.5 dE00\n");
    let analysis = analysed(&text, &READ);
    let (measure, _) = analysis.deciding().unwrap();
    let spent = measure.spent.as_ref().unwrap();
    let told: Vec<(bool, bool)> = spent
        .iter()
        .map(|one| (matches!(one.when, Ok(Spent::AtLeast(_))), one.gone == Some(Gone::Stopped)))
        .collect();
    // In the order of the map: A1, A2, A3, A4, B1, B2, B3, B4.
    let (held, stopped, failed) = ((true, false), (true, true), (false, false));
    assert_eq!(told, [held, stopped, stopped, held, stopped, failed, held, held]);
}

/// The mean of a treatment is no mean at cycle 3 where a patch of it was stopped before, so that no interval of its own is claimed;
/// the answer says which stand there with an older value, since when, and that these are in the scatter too.
#[test]
fn a_mean_with_a_value_of_the_stop_has_no_interval_and_the_answer_names_the_patch() {
    let analysis = analysis();
    let (measure, round) = analysis.deciding().unwrap();
    let intervals: Vec<bool> = measure
        .groups
        .iter()
        .map(|group| {
            let at = group.at.iter().find(|at| at.round == round.round).unwrap();
            assert_eq!(at.change.unwrap().interval, at.level.unwrap().interval, "fresh is zero everywhere");
            at.change.unwrap().interval.is_some()
        })
        .collect();
    assert_eq!(intervals, [true, false, false], "bay was read to the end; clove and bare were not");
    let report = told(STUDY, &READ);
    let answer = report.split("## The panel").next().unwrap();
    assert!(answer.contains(
        "of clove A2 / a1 and B1 / a1 at cycle 2; of bare A3 / a1 and B2 / a1 at cycle 1. They count on"
    ));
    assert!(answer.contains("in the means and in no scatter of what was read"), "{answer}");
    // Rates count the sections that lasted, and say of which treatment they leave out the worst.
    let survivors = "and so flatter the treatment: A2 / a1 and B1 / a1 of clove and A3 / a1 and B2 / a1 of bare were stopped before.";
    assert!(report.contains(survivors), "{report}");
}

/// Bare goes on to cycle 2 on A3 and is stopped on B2 at cycle 1, so that at cycle 2 it stands in part as it stood, and was last read there.
#[test]
fn the_last_round_of_bare_is_that_at_which_any_of_it_was_read() {
    let mut read = READ;
    read[6] = ("A3", &[0.0, 3.0, 6.0]);
    let analysis = analysed(STUDY, &read);
    let (measure, round) = analysis.deciding().unwrap();
    let cycle = |n: usize| measure.rounds[measure.rounds.len() - 4 + n].round;
    let table = round.to_bare.as_ref().unwrap();
    assert_eq!((table.control_until, table.control_last), (Some(cycle(1)), Some(cycle(2))));
    // At cycle 2 itself A3 was read.
    let before = measure.rounds[measure.rounds.len() - 2].to_bare.as_ref().unwrap();
    assert_eq!((before.control_until, before.control_last), (Some(cycle(1)), None));
}

/// Dill was stopped at cycle 1 near 6, where bay and clove stood at 4.5; they went on, and stand at 9 and 12 after cycle 3.
const DILL: [(&str, &[f64]); 12] = [
    ("A1", &[0.0, 4.5, 4.8, 9.0]),
    ("B4", &[0.0, 4.4, 4.7, 9.2]),
    ("C2", &[0.0, 4.3, 4.9, 8.9]),
    ("A3", &[0.0, 4.4, 4.9, 12.0]),
    ("B1", &[0.0, 4.6, 4.9, 12.3]),
    ("C3", &[0.0, 4.5, 4.8, 11.9]),
    ("A4", &[0.0, 6.1]),
    ("B2", &[0.0, 6.0]),
    ("C1", &[0.0, 6.3]),
    ("A2", &[0.0, 8.0]),
    ("B3", &[0.0, 8.2]),
    ("C4", &[0.0, 7.9]),
];

/// Lower is better, so that by its values of the stop dill would lead by 3, and bay fall short of it.
#[test]
fn a_product_does_not_lead_since_it_was_stopped_first_and_pushes_nobody_out() {
    let text = STUDY
        .replace("product clove\n", "product clove\nproduct dill\n")
        .replace("2 rows of 4", "3 rows of 4")
        .replace("| bay   clove bare bay  |", "| bay bare clove dill |")
        .replace("| clove bare  bay  clove |", "| clove dill bare bay |\n    | dill bay clove bare |");
    let analysis = analysed(&text, &DILL);
    let (_, round) = analysis.deciding().unwrap();
    let lead = round.lead.as_ref().unwrap();
    let [bay, clove, dill] = lead.rows.as_slice() else { panic!("{lead:?}") };
    assert_eq!((lead.may_lead.clone(), lead.bound.clone()), (Ok(vec![bay.product]), vec![dill.product]));
    // Means 27.1 / 3 and 36.2 / 3: bay leads clove by 9.1 / 3, and dill is nobody's best other.
    let ahead = 9.1 / 3.0;
    assert!((bay.lead - ahead).abs() < 1e-9 && (clove.lead + ahead).abs() < 1e-9, "{lead:?}");
    assert!(
        bay.interval.unwrap().high > 0.0 && clove.interval.unwrap().high <= 0.0 && dill.interval.is_none()
    );
    let chances = analysis.chances.as_ref().unwrap().as_ref().unwrap();
    let drawn: Vec<_> = chances.rows.iter().map(|row| row.product).collect();
    assert_eq!(drawn, [bay.product, clove.product]);
    let report = told(&text, &DILL);
    let answer = report.split("## The panel").next().unwrap();
    assert!(
        answer.contains("bay is the one product with no patch stopped that may lead at cycle 3"),
        "{answer}"
    );
    assert!(
        answer.contains("at which patches of dill were stopped before cycle 3 no product is said to lead")
    );
    assert!(report.contains("| a bound, no word |"), "{report}");
    // Means 13.2 / 3, 13.5 / 3 and 18.4 / 3: dill was behind at the stop.
    assert!(
        answer.contains(
            "\n[At cycle 1](#2-of-3-products-may-lead-at-cycle-1-the-last-that-all-products-share), the last that all products share, bay +4.4 \
             and clove +4.5 dE00 [may lead](#words); not ahead dill +6.1 dE00."
        ),
        "{answer}"
    );
    let table = report
        .split("## 2 of 3 products may lead at cycle 1, the last that all products share\n")
        .nth(1)
        .unwrap();
    assert!(table.contains("| dill | −1.7 | ") && table.contains("| not ahead | +6.1 | 3 |"), "{table}");
    assert!(report.contains("Nothing is drawn for dill: patches of theirs were stopped before"), "{report}");
}

/// Clove stands at 1 and is stopped for its smears; bay stands at 4 then and at 5 in the end. Clove was ahead as long as both went on.
#[test]
fn a_leader_that_was_stopped_is_in_the_headline_and_who_is_left_does_not_take_its_place() {
    let text = STUDY
        .replace(
            "    read haze once\n    stop a patch when haze is above 5 dE00",
            "    read haze once\n    read smear once\n    stop a patch when smear is above 5 dE00",
        )
        .replace("patches in", "measure smear in dE00\n    lower is better\npatches in");
    let levels = [
        ("A1", [0.0, 2.0, 4.0, 5.0], 3),
        ("A4", [0.0, 2.1, 4.1, 5.2], 3),
        ("B3", [0.0, 1.9, 4.2, 5.1], 3),
        ("A2", [0.0, 0.5, 1.0, 1.2], 2),
        ("B1", [0.0, 0.6, 1.1, 1.2], 2),
        ("B4", [0.0, 0.4, 0.9, 1.2], 3),
        ("A3", [0.0, 6.0, 9.0, 12.0], 3),
        ("B2", [0.0, 6.2, 9.1, 12.0], 3),
    ];
    let mut csv = String::from("date,round,section,measure,value\n");
    let rounds = ["2026-03-11,fresh", "2026-03-13,cycle 1", "2026-03-15,cycle 2", "2026-03-17,cycle 3"];
    for (code, haze, last) in levels {
        csv += &format!("2026-03-02,baseline,{code} / a1,haze,0\n");
        for (at, round) in rounds.iter().enumerate().filter(|(at, _)| *at <= last) {
            csv += &format!("{round},{code} / a1,haze,{}\n", haze[at]);
            let smear = if at == last && last < 3 { 6 } else { 1 };
            csv += &if at > 0 { format!("{round},{code} / a1,smear,{smear}\n") } else { String::new() };
        }
    }
    let files = [("rows.csv".to_owned(), csv.into_bytes())];
    let outcome = pipeline::check("plates.study", &text, &files, Day::AsOf("2026-04-01".parse().unwrap()));
    assert!(!has_errors(&outcome.findings), "{:#?}", outcome.findings);
    let report = outcome.build(Some(&["report.md"])).unwrap().into_iter().next().unwrap().bytes;
    let report = String::from_utf8(report).unwrap();
    let answer = report.split("## The panel").next().unwrap();
    assert!(
        answer.contains("\n## Up to cycle 2, the last that all products share, clove may lead\n"),
        "{answer}"
    );
    assert!(
        answer.contains(
            "clove may lead\n\n[At cycle 2](#one-of-2-products-may-lead-at-cycle-2-the-last-that-all-products-share), the last that all \
             products share, clove [+1.0 dE00](#words) [may lead](#words); not ahead bay +4.1 dE00.\n"
        ),
        "{answer}"
    );
    assert!(
        answer.contains(
            "\n[Bay](#one-of-2-products-may-lead-at-cycle-3) (+5.1 dE00, 3 sections) alone went on to cycle 3 without a patch stopped. By"
        ),
        "{answer}"
    );
    assert!(
        report.contains("\n## One of 2 products may lead at cycle 2, the last that all products share\n"),
        "{report}"
    );
}

/// Of two products one was stopped: the other may lead, and there is nobody to draw a chance against.
#[test]
fn one_product_that_went_on_may_lead_and_has_no_chance_against_a_bound() {
    let (text, read) = wide();
    let analysis = analysed(&text, &read);
    let (_, round) = analysis.deciding().unwrap();
    let lead = round.lead.as_ref().unwrap();
    assert_eq!(lead.may_lead, Ok(vec![lead.rows[0].product]));
    assert_eq!((lead.bound.as_slice(), lead.rows[0].interval), ([lead.rows[1].product].as_slice(), None));
    assert_eq!(analysis.chances, Some(Err(Strength::Bound)));
}

const MARKS: [(&str, &[f64]); 10] = [
    ("A1", &[0.0, 0.0, 0.0, 1.0]),
    ("A4", &[0.0, 0.0, 1.0, 1.0]),
    ("B3", &[0.0, 0.0, 0.0, 0.0]),
    ("A5", &[0.0, 0.0, 1.0, 2.0]),
    ("A2", &[0.0, 6.0]),
    ("B1", &[0.0, 2.0, 5.0]),
    ("A3", &[0.0, 6.0]),
    ("B2", &[0.0, 8.0]),
    ("B4", &[0.0, 7.0]),
    ("B5", &[0.0, 9.0]),
];

fn marked() -> String {
    STUDY
        .replace("measure haze in dE00", "measure haze, a rating 0 to 10")
        .replace("change from fresh", "change from fresh\n    0 \"none\"")
        .replace("is above 5 dE00", "is 5 or worse")
        .replace("2 rows of 4", "2 rows of 5")
        .replace("| bay   clove bare bay  |", "| bay   clove bare bay  bay  |")
        .replace("| clove bare  bay  clove |", "| clove bare  bay  bare bare |")
}

#[test]
fn a_rating_that_decides_names_the_marks_that_are_carried_on() {
    let (text, analysis) = (marked(), analysed(&marked(), &MARKS));
    let (measure, _) = analysis.deciding().unwrap();
    let rows = &measure.rating.as_ref().unwrap().rows;
    // Four of bay against four of bare, all apart: bare was stopped, and could only have become worse. That p counts, and one that going
    // on could have undone counts as 1.
    assert_eq!(
        rows.iter().map(tapeline::analysis::RatingRow::counted).collect::<Vec<_>>()[..2],
        [rows[0].p.map(|p| p.p), Some(1.0)]
    );
    assert!(!rows[0].bound && rows[0].p.unwrap().p < 0.05, "{rows:?}");
    // Clove was stopped as well, so that by how much it is ahead of bare is open either way.
    assert!(rows[1].bound, "{rows:?}");
    let report = told(&text, &MARKS);
    let answer = report.split("## The panel").next().unwrap();
    let named = "of clove A2 / a1 at cycle 1, B1 / a1 at cycle 2; of bare A3 / a1, B2 / a1, B4 / a1 and B5 / a1 at cycle 1. They count on with \
                 the marks at which they were stopped";
    assert!(answer.contains(named), "{answer}");
    assert!(report.contains("| a bound, no word |"), "{report}");
}

/// Bay goes on rising by 2 a cycle; bare is stopped after cycle 1 at 6 and stands there, so that at cycle 3 bay meets it: by then bare
/// would have gone on as well, and "not told apart" would be of a value that stood still.
#[test]
fn against_bare_that_was_stopped_no_row_is_called_not_settled() {
    let mut read = READ.to_vec();
    read.extend([("A5", [0.0, 6.2].as_slice()), ("B5", [0.0, 6.5].as_slice())]);
    for (code, values) in &mut read {
        *values = match *code {
            "A1" => &[0.0, 2.0, 4.0, 6.4],
            "A4" => &[0.0, 2.2, 4.1, 6.6],
            "B3" => &[0.0, 1.9, 4.3, 7.0],
            "A2" => &[0.0, 0.2, 0.3, 0.5],
            "B1" => &[0.0, 0.3, 0.4, 0.4],
            "B4" => &[0.0, 0.2, 0.3, 0.4],
            "A3" => &[0.0, 6.0],
            "B2" => &[0.0, 6.8],
            _ => *values,
        };
    }
    let text = STUDY
        .replace("haze is above 5", "haze is above 5.5")
        .replace("2 rows of 4", "2 rows of 5")
        .replace("| bay   clove bare bay  |", "| bay   clove bare bay  bare |")
        .replace("| clove bare  bay  clove |", "| clove bare  bay  clove bare |");
    let analysis = analysed(&text, &read);
    let (measure, round) = analysis.deciding().unwrap();
    let table = round.to_bare.as_ref().unwrap();
    assert_eq!(table.control_until, Some(measure.rounds[2].round), "bare was last read at cycle 1");
    let words: Vec<_> = table.rows.iter().map(|row| row.word.is_ok()).collect();
    assert_eq!(table.rows[0].word, Err(Strength::Bound));
    // Clove is below what bare was when it was stopped: that holds whatever bare did later.
    assert_eq!(words, [false, true]);
    // Which looks are counted may not depend on how they came out.
    assert!(table.rows.iter().all(|row| row.p.is_some()));
    let report = told(&text, &read);
    assert!(report.contains("| bare last at cycle 1 |"), "{report}");
    assert!(!report.contains("not told apart from the bare sections"), "{report}");
    let first = |round: usize| measure.rounds[round].to_bare.as_ref().unwrap();
    assert_eq!(first(2).control_until, None);
    assert!(first(2).rows.iter().all(|row| row.word.is_ok() && row.p.is_some()));
}
