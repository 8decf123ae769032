//! Which step is done how often in the whole study, and on how much surface: both are counted once, for every list.

use crate::speech::{count, say};
use crate::study::{Section, SpecimensId, Step, Study, SupplyId, Upkeep, Verb};

/// A step, and how often the whole study does it.
pub(super) struct Work<'a> {
    pub(super) step: &'a Step,
    /// How often work begins with it, each time with a fresh mix; `None` where the study does not say when it ends.
    pub(super) occasions: Option<u32>,
    /// Where it stands: `preparation`, `5 rounds`, `up to 6 cycles`.
    pub(super) place: String,
    /// True for the wipe that is done once more on a later day, with a batch of its own.
    pub(super) again: bool,
}

/// Every step with what it is done with or at.
pub(super) fn work(study: &Study) -> Vec<Work<'_>> {
    let once = |step, place: String| Work { step, occasions: Some(1), place, again: false };
    let again = wiped_again(study);
    let prep = study.prep.iter().enumerate().map(move |(at, step)| {
        if again == Some(at) {
            let place = say!("preparation, and once more before the coats").to_owned();
            return Work { step, occasions: Some(2), place, again: true };
        }
        once(step, say!("preparation").into())
    });
    let loose = study.specimens.iter().flat_map(|set| set.prep.iter().map(move |step| (set, step)));
    let loose = loose.map(|(set, step)| once(step, say!("preparation of {set}", set = set.name.value)));
    let washed = study.rounds.iter().filter(|round| round.is_cared_for());
    let rounds = u32::try_from(washed.count()).unwrap_or(u32::MAX);
    let before = study.before_each_round.iter().map(move |step| Work {
        step,
        occasions: Some(rounds),
        place: count(rounds as usize, "round"),
        again: false,
    });
    let most = study.cycle.as_ref().map_or(0, |cycle| cycle.most);
    let cycles = study.cycle_steps().map(move |step| Work {
        step,
        occasions: Some(most),
        place: say!("up to {cycles}", cycles = count(most as usize, "cycle")),
        again: false,
    });
    let upkeep = study.upkeep.iter().filter_map(|upkeep| {
        let Upkeep::Every { step, .. } = upkeep else { return None };
        let times = u32::try_from(study.upkeep_days(upkeep).len()).ok().filter(|times| *times > 0);
        let place = times.map_or_else(
            || say!("upkeep, as often as it is done").to_owned(),
            |times| say!("upkeep {times}", times = count(times as usize, "time")),
        );
        Some(Work { step, occasions: times, place, again: false })
    });
    let all = prep.chain(loose).chain(before).chain(cycles).chain(upkeep);
    all.filter(|work| work.occasions != Some(0)).collect()
}

/// The last wipe of the preparation, by its place, where a night may lie between it and the first coat: what was wiped gathers dust
/// and grease meanwhile, so that it is wiped once more.
pub(super) fn wiped_again(study: &Study) -> Option<usize> {
    let (begins, coats) = (study.begins.as_ref()?.value, study.first_coat()?.date());
    let last = study.prep.iter().rposition(|step| step.verb == Verb::Wipe)?;
    (begins < coats).then_some(last)
}

/// What a step is done on.
pub(super) struct Surface {
    /// How many places: sections, specimens or patches.
    pub(super) places: usize,
    /// For what an amount is: `for the panel`, `for these sections`, `for its patches`.
    pub(super) name: &'static str,
    /// Its area; `None` where the study does not give it.
    pub(super) area_m2: Option<f64>,
}

/// What a step is done on: the patches of its marker or cleaner, the set of specimens that it prepares, the sections that it
/// names, else everything that is prepared.
pub(super) fn surface(study: &Study, step: &Step) -> Surface {
    let of = |places: &[&Section], name| Surface {
        places: places.len(),
        area_m2: places.iter().map(|place| study.area_m2(place)).sum(),
        name,
    };
    if let (Verb::Mark | Verb::Clean, Some(with)) = (step.verb, &step.with) {
        return of(&patches(study, with.value), say!("for its patches"));
    }
    if let Some(set) = set_of(study, step) {
        let mut places: Vec<&Section> = study.specimens_in(set).map(|(_, own)| own).collect();
        // Spare ones are like any of the set.
        let spare = study.specimens[set.index()].spare.unwrap_or(0) as usize;
        places.extend(places.first().copied().into_iter().cycle().take(spare));
        return of(&places, say!("for all of them"));
    }
    if let Some(only) = study.done_on(step) {
        let places: Vec<&Section> = only.sections.iter().map(|&id| study.section(id)).collect();
        return of(&places, say!("for these sections"));
    }
    let places: Vec<&Section> = study.prepared().map(|(_, section)| section).collect();
    match &study.surface.outline {
        // What lies between the sections is washed with them.
        Some(outline) => {
            Surface { area_m2: Some(outline.value.area_m2()), ..of(&places, say!("for the panel")) }
        }
        None => of(&places, say!("for the faces of all specimens")),
    }
}

/// The set of loose specimens whose preparation a step is of.
fn set_of(study: &Study, step: &Step) -> Option<SpecimensId> {
    let own = study.specimens.iter().position(|set| set.prep.iter().any(|own| own.span == step.span));
    own.map(SpecimensId::new)
}

/// Every patch that is marked or cleaned with a supply, on every specimen.
fn patches(study: &Study, with: SupplyId) -> Vec<&Section> {
    let treats = |place: &&Section| {
        let treated = place.specimen.and_then(|set| study.specimens[set.index()].treated);
        treated.is_some_and(|treated| treated.marker == with || treated.cleaner == with)
    };
    study.loose.iter().filter(treats).collect()
}
