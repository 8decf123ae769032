//! The run sheet: no window is missed, hands do one thing at a time, and every coat is there once.

use super::{DAY, MAP, study};
use std::collections::BTreeMap;
use tapeline::hands::{Act, Run, Work, run};
use tapeline::pipeline::{Day, open};
use tapeline::study::{ProductId, Section, Study, Treatment};

fn day() -> Day {
    Day::AsOf(DAY)
}

fn of(text: &str) -> (Study, Run) {
    let study = open("run.study", text, day()).study;
    let run = run(&study).unwrap();
    (study, run)
}

/// Two coatings on two sections each, worked out by hand below; invented.
const TWO: &str = "study \"Two\"
    begins 2026-03-02
surface lid
    size 900 x 700 mm
product ash
    flash 10 to 14 min
product elm
    flash 2 min
prep
    wipe with isopropanol 15 % by volume
    tape lines 6 mm wide
map sections 200 x 200 mm gap 10 mm
    | ash elm |
    | elm ash |
apply
    on 2026-03-03 from 09:00
    tape off 30 to 40 min after last coat
    pace lay on 1 min, wipe off 1 min, pull tape 1 min, change 2 min
rounds
    baseline gloss-60 once
measure gloss-60
";

/// The name of what goes on in an act.
fn name<'s>(study: &'s Study, act: &Act) -> &'s str {
    act.product.map_or("carrier-only", |id| &study.product(id).name.value)
}

/// Minutes at which each act begins, with the name of its product.
fn minutes(study: &Study, run: &Run) -> Vec<(i64, String, Work)> {
    let of = |act: &Act| (act.begins / 60, name(study, act).to_owned(), act.work);
    run.acts.iter().map(of).collect()
}

#[test]
fn the_wait_of_one_product_takes_another() {
    // `ash` waits from minute 2 to 10: two minutes of change, 2 on and 2 off for `elm`, and 2 to change back are 8.
    let (study, run) = of(TWO);
    let plan = minutes(&study, &run);
    let plan: Vec<(i64, &str, Work)> =
        plan.iter().map(|(at, name, work)| (*at, name.as_str(), *work)).collect();
    assert_eq!(
        plan,
        [
            (0, "ash", Work::LayOn),
            (4, "elm", Work::LayOn),
            (6, "elm", Work::WipeOff),
            (10, "ash", Work::WipeOff),
            (30, "ash", Work::PullTape),
            (34, "elm", Work::PullTape),
        ]
    );
    assert_eq!((run.ends, run.busy), (36 * 60, 12 * 60));
    // In turn: 32 minutes for the first with its tape, 2 to change, 32 for the second.
    assert_eq!(run.in_turn, 66 * 60);
}

#[test]
fn hands_that_are_slow_take_fewer_sections_at_a_time() {
    // 3 minutes a section: the second would lie on for 3 more, so with a flash of 4 to 5 each goes alone.
    let slow = TWO
        .replace("flash 10 to 14 min", "flash 4 to 5 min")
        .replace("lay on 1 min, wipe off 1 min", "lay on 3 min, wipe off 3 min");
    let (study, run) = of(&slow);
    let of_ash = |act: &&Act| name(&study, act) == "ash";
    let laid = run.acts.iter().filter(of_ash).filter(|act| act.work == Work::LayOn);
    assert_eq!(laid.map(|act| act.sections.len()).collect::<Vec<_>>(), [1, 1]);
    assert!(run.acts.iter().filter(of_ash).all(|act| act.kept), "{run:?}");
}

#[test]
fn a_time_that_is_over_before_the_section_is_done_is_told() {
    let (study, run) = of(&TWO.replace("flash 2 min", "flash 1 min").replace("lay on 1 min", "lay on 2 min"));
    let late: Vec<&Act> = run.acts.iter().filter(|act| !act.kept).collect();
    assert!(!late.is_empty() && late.iter().all(|act| name(&study, act) == "elm"), "{late:?}");
}

/// Every study that this file plans: the examples, and the small one of these tests at several paces.
fn studies() -> Vec<(String, Study)> {
    let examples = [
        ("coach-door", include_str!("../../examples/coach-door/coach-door.study")),
        ("foredeck", include_str!("../../examples/foredeck/foredeck.study")),
        ("bench-slats", include_str!("../../examples/bench-slats/bench-slats.study")),
        ("marked-cladding", include_str!("../../examples/marked-cladding/marked-cladding.study")),
        ("beginner", include_str!("../../examples/beginner/beginner.study")),
    ];
    let mut all: Vec<(String, Study)> =
        examples.iter().map(|(name, text)| ((*name).to_owned(), open(name, text, day()).study)).collect();
    for pace in ["lay on 20 s", "lay on 4 min, wipe off 30 s", "wipe off 3 min, change 10 min"] {
        let text = TWO.replace("lay on 1 min, wipe off 1 min, pull tape 1 min, change 2 min", pace);
        all.push((pace.to_owned(), open("run.study", &text, day()).study));
    }
    all.push(("four sprays".into(), open("locker.study", &study(MAP, ""), day()).study));
    all
}

#[test]
fn every_coat_is_there_once_within_its_window_and_hands_do_one_thing_at_a_time() {
    for (name, study) in studies() {
        let run = run(&study).unwrap();
        for pair in run.acts.windows(2) {
            let change = if pair[0].product == pair[1].product { 0 } else { run.pace.change };
            assert!(pair[0].ends + change <= pair[1].begins, "{name}: {pair:?}");
        }
        let mut laid: BTreeMap<(Option<usize>, u32, usize), i64> = BTreeMap::new();
        for act in &run.acts {
            assert!(act.begins % 60 == 0 && act.ends > act.begins, "{name}: {act:?}");
            let within = act.window.is_none_or(|(first, last)| {
                first <= act.begins && last.is_none_or(|last| act.begins <= last)
            });
            assert!(within || !act.kept, "{name}: {act:?}");
            if matches!(act.work, Work::LayOn | Work::LayAndWipe) {
                for section in &act.sections {
                    let key = (act.product.map(ProductId::index), act.coat, section.index());
                    assert!(laid.insert(key, act.begins).is_none(), "{name}: {act:?}");
                }
            }
        }
        let is_patch =
            |section: &Section| section.specimen.is_some_and(|id| study.specimens[id.index()].patch);
        let planned: usize = study
            .places()
            .filter(|(_, section)| !is_patch(section))
            .map(|(_, section)| match section.treatment {
                Treatment::Product(id) => study.product(id).coats_number() as usize,
                _ => 0,
            })
            .sum();
        assert_eq!(laid.len(), planned, "{name}");
        assert!(run.ends <= run.in_turn, "{name}: {} and {}", run.ends, run.in_turn);
    }
}

/// The flash of each section by its own start and end, counted anew from the acts.
#[test]
fn each_section_lies_as_long_as_its_product_asks() {
    for (name, study) in studies() {
        let run = run(&study).unwrap();
        let pace = run.pace;
        for off in run.acts.iter().filter(|act| act.work == Work::WipeOff && act.kept) {
            let on = run
                .acts
                .iter()
                .find(|on| on.work == Work::LayOn && on.coat == off.coat && on.sections == off.sections);
            let begun = on.unwrap().begins;
            let flash = study.product(off.product.unwrap()).coat(off.coat).off.unwrap();
            let (low, high) = (flash.low.seconds(), flash.high.seconds());
            for place in 0..off.sections.len() {
                let place = i64::try_from(place).unwrap();
                let lies = off.begins + place * pace.wipe_off - begun - place * pace.lay_on;
                let lies = f64::from(i32::try_from(lies).unwrap());
                assert!((low..=high).contains(&lies), "{name}: {off:?} lies {lies} s of {low} to {high}");
            }
        }
    }
}

/// Ten sections in one go would leave one minute only to begin wiping them; two groups leave five. Counted by hand.
#[test]
fn a_part_of_each_window_is_left_to_spare() {
    let ten = TWO
        .replace("flash 10 to 14 min", "flash 1 to 10 min")
        .replace("size 900 x 700 mm", "size 2400 x 700 mm")
        .replace("    | ash elm |\n    | elm ash |\n", &format!("    |{}\n", " ash |".repeat(10)));
    let (_, run) = of(&ten);
    let wiped: Vec<_> = run.acts.iter().filter(|act| act.work == Work::WipeOff).collect();
    assert_eq!(wiped.iter().map(|act| act.sections.len()).collect::<Vec<_>>(), [5, 5]);
    for act in wiped {
        assert_eq!(act.window.map(|(first, last)| last.map(|last| last - first)), Some(Some(300)), "{act:?}");
    }
}

#[test]
fn nobody_turns_away_from_a_coat_whose_time_is_not_known() {
    let (study, run) = of(&TWO.replace("    flash 2 min\n", ""));
    let elm: Vec<&Act> = run.acts.iter().filter(|act| name(&study, act) == "elm").collect();
    let stays = elm.iter().filter(|act| act.work == Work::LayAndWipe && act.sections.len() == 1).count();
    assert_eq!((stays, elm.iter().any(|act| act.work == Work::LayOn)), (2, false), "{elm:?}");
}

/// A patch is drawn on a section that carries its coat already; a second coat on it would spoil what is read.
#[test]
fn a_patch_gets_no_coat_of_its_own() {
    let text = include_str!("../../examples/marked-cladding/marked-cladding.study");
    let study = open("marked-cladding.study", text, day()).study;
    assert!(study.specimens.iter().any(|set| set.patch));
    let acts = run(&study).unwrap().acts;
    let coated = acts.iter().flat_map(|act| &act.sections).map(|&id| study.section(id));
    assert!(coated.filter(|section| section.specimen.is_some()).count() == 0);
}

/// Two sections of 3 min each are rubbed from minute 60 on, when the first coat has lain for its hour, and the next coat follows.
#[test]
fn what_is_done_between_coats_has_its_own_time_before_the_second() {
    let text = TWO
        .replace(
            "    flash 10 to 14 min\n",
            "    flash none\n    coats 2 after 1 to 2 h\n    between rub with 400 grit\n",
        )
        .replace("pull tape 1 min, change 2 min", "between 3 min, pull tape 1 min, change 2 min")
        .replace("| ash elm |\n    | elm ash |", "| ash bare |\n    | bare ash |")
        .replace("product elm\n    flash 2 min\n", "");
    let (study, run) = of(&text);
    let plan = minutes(&study, &run);
    let plan: Vec<(i64, Work)> = plan.iter().map(|(at, _, work)| (*at, *work)).collect();
    assert_eq!(
        plan,
        [(0, Work::LayOn), (60, Work::Between), (66, Work::LayOn), (96, Work::PullTape)],
        "{:?}",
        run.acts
    );
    assert!(run.acts.iter().all(|act| act.kept));
}

/// Where two coats wait for one morning, the one whose window ends soon goes first.
#[test]
fn a_coat_whose_window_ends_goes_before_one_that_has_time() {
    let text = TWO
        .replace("    flash 10 to 14 min\n", "    flash none\n    coats 2 after 12 to 48 h\n")
        .replace("    flash 2 min\n", "    flash none\n    coats 2 after 23 to 24 h\n")
        .replace("    tape off 30 to 40 min after last coat\n", "");
    let (study, run) = of(&text);
    let second = run.acts.iter().find(|act| act.coat == 2).unwrap();
    assert_eq!(name(&study, second), "elm", "{:?}", run.acts);
    assert!(run.acts.iter().all(|act| act.kept && !act.is_tight()), "{:?}", run.acts);
}

/// One section by itself has no section that lies longer, so a single time is kept at any pace.
#[test]
fn a_single_time_is_kept_by_hands_that_lay_on_and_wipe_off_unlike() {
    for pace in ["lay on 2 min, wipe off 1 min", "lay on 1 min, wipe off 2 min"] {
        let text =
            TWO.replace("flash 10 to 14 min", "flash 10 min").replace("lay on 1 min, wipe off 1 min", pace);
        let (study, run) = of(&text);
        let of_ash = |act: &&Act| name(&study, act) == "ash";
        assert!(run.acts.iter().filter(of_ash).all(|act| act.kept), "{pace}: {:?}", run.acts);
        let wiped = run.acts.iter().filter(of_ash).filter(|act| act.work == Work::WipeOff);
        assert_eq!(wiped.count(), 2, "{pace}");
    }
}

/// Slips lie beside the panel: they are coated with it, and nobody taped them.
#[test]
fn tape_is_pulled_off_the_panel_only() {
    let slips = "specimens slips\n    each 50 x 50 mm\n    one for each product and bare\nmap sections";
    let (study, run) = of(&TWO.replace("map sections", slips));
    let loose = |act: &Act| act.sections.iter().filter(|&&id| study.section(id).specimen.is_some()).count();
    let of = |work: Work| run.acts.iter().filter(|act| act.work == work).map(loose).sum::<usize>();
    assert_eq!((of(Work::LayOn), of(Work::PullTape)), (2, 0), "{:?}", run.acts);
}

/// The small study with `ash` alone, in two coats, and tape that waits for the first.
fn two_coats(tape: &str) -> String {
    TWO.replace("    flash 10 to 14 min\n", "    flash 10 to 14 min\n    coats 2 after 1 to 3 h\n")
        .replace("tape off 30 to 40 min after last coat", tape)
        .replace("| ash elm |\n    | elm ash |", "| ash bare |\n    | bare ash |")
        .replace("product elm\n    flash 2 min\n", "")
}

/// Counted by hand: both sections are laid on from minute 0 and 60, and wiped off ten minutes after each.
#[test]
fn tape_is_pulled_when_the_study_says_on_whichever_side_of_the_second_coat() {
    let coats = [(0, Work::LayOn), (10, Work::WipeOff), (60, Work::LayOn), (70, Work::WipeOff)];
    for (tape, at, place) in [
        ("tape off 20 to 40 min after first coat", 20, 2),
        ("tape off 4 to 6 h after first coat", 240, 4),
        ("tape off 30 to 40 min after last coat", 90, 4),
    ] {
        let (study, run) = of(&two_coats(tape));
        let plan = minutes(&study, &run);
        let plan: Vec<(i64, Work)> = plan.iter().map(|(at, _, work)| (*at, *work)).collect();
        let mut expected = coats.to_vec();
        expected.insert(place, (at, Work::PullTape));
        assert_eq!(plan, expected, "{tape}");
        assert!(run.acts.iter().all(|act| act.kept), "{tape}: {:?}", run.acts);
    }
}

/// The second coat may wait for two minutes only, so that neither side of it has room for the tape: hands come in while it flashes.
#[test]
fn tape_that_fits_on_neither_side_of_a_coat_is_pulled_while_it_flashes() {
    let text =
        two_coats("tape off 65 to 68 min after first coat").replace("after 1 to 3 h", "after 60 to 62 min");
    let (study, run) = of(&text);
    let plan = minutes(&study, &run);
    let plan: Vec<(i64, Work)> = plan.iter().map(|(at, _, work)| (*at, *work)).collect();
    let expected =
        [(0, Work::LayOn), (10, Work::WipeOff), (60, Work::LayOn), (65, Work::PullTape), (70, Work::WipeOff)];
    assert_eq!(plan, expected);
    assert!(run.acts.iter().all(|act| act.kept), "{:?}", run.acts);
}

/// Two sections, a minute on and a minute off each, are four; their tape waits for them alone.
#[test]
fn the_carrier_alone_has_its_place_among_the_products() {
    let text = TWO.replace("| elm ash |", "| elm ash |\n    | carrier-only carrier-only |");
    let (_, run) = of(&text);
    let own: Vec<&Act> = run.acts.iter().filter(|act| act.product.is_none()).collect();
    let told: Vec<(Work, i64, usize)> =
        own.iter().map(|act| (act.work, (act.ends - act.begins) / 60, act.sections.len())).collect();
    assert_eq!(told, [(Work::LayAndWipe, 4, 2), (Work::PullTape, 2, 2)]);
    // The first lies 30 to 40 min at 1 min a section less than it took to coat it: the second is later by one.
    let after = own[1].begins - own[0].begins;
    assert!((31 * 60..=40 * 60).contains(&after), "{after}");
    assert!(run.acts.iter().all(|act| act.kept), "{:?}", run.acts);
    let outcome = super::check("run.study", &text, &[], day());
    let sheet = super::output(&outcome, "run-sheet.html");
    assert!(sheet.contains("C1, C2</td><td class=\"work\">lay on, wipe off</td>"), "{sheet}");
    assert!(sheet.contains("C1 and C2: the carrier alone, as often, as much"), "{sheet}");
    let checklist = super::output(&outcome, "checklist.html");
    assert!(checklist.contains("Put the carrier alone on C1 and C2"), "{checklist}");
    assert!(checklist.contains("class not stated: follow the product"), "{checklist}");
}

/// Where a wipe of the preparation is done on these sections only, it is what puts the carrier on.
#[test]
fn a_carrier_that_the_preparation_puts_on_is_not_put_on_twice() {
    let text = TWO.replace("| elm ash |", "| elm ash |\n    | carrier-only carrier-only |").replace(
        "    tape lines",
        "    wipe with isopropanol 70 % by volume only on carrier-only\n    tape lines",
    );
    let (_, run) = of(&text);
    assert!(run.acts.iter().all(|act| act.product.is_some()), "{:?}", run.acts);
}

/// At 10 ml per m2 a section of 150 x 120 mm takes 0.18 ml, and one of 100 x 100 mm takes 0.1 ml.
#[test]
fn sections_of_unlike_size_have_an_amount_each() {
    let text =
        study(&format!("{MAP}    section X1 of bay  from right 10 mm, top 44 mm  size 100 x 100 mm\n"), "")
            .replace(
                "\"Bay spray\", a spray sealant\n",
                "\"Bay spray\", a spray sealant\n    uses 10 ml per m2\n    flash 5 to 10 min\n",
            );
    let outcome = super::check("lid.study", &text, &[], day());
    let sheet = super::output(&outcome, "run-sheet.html");
    assert!(sheet.contains("<span>0.18 ml on A1 and B3</span><span>0.1 ml on X1</span>"), "{sheet}");
    let checklist = super::output(&outcome, "checklist.html");
    assert!(
        checklist.contains("0.18 ml on A1 and B3; 0.1 ml on X1 (1 ml syringe), for one coat"),
        "{checklist}"
    );
}

/// Two oils are rubbed on the second day. Whichever was laid on the first, its coat waits until the other is rubbed too.
#[test]
fn nothing_is_rubbed_beside_what_was_laid_on_the_same_morning() {
    let slats = include_str!("../../examples/bench-slats/bench-slats.study");
    let (study, run) = of(slats);
    assert!(run.acts.iter().all(|act| act.kept), "no window is missed for it");
    let rubbed: Vec<&Act> = run.acts.iter().filter(|act| act.work == Work::Between).collect();
    assert_eq!(rubbed.len(), 3);
    let day = |act: &Act| act.begins.div_euclid(24 * 3600);
    for rub in rubbed {
        let wet = run.acts.iter().find(|act| {
            act.work.is_laying()
                && act.product != rub.product
                && day(act) == day(rub)
                && act.begins < rub.begins
        });
        assert_eq!(
            wet.map(|act| name(&study, act)),
            None,
            "beside {} at {} s",
            name(&study, rub),
            rub.begins
        );
    }
}
