//! Over time: how fast each product lost, the level that it held, and whether there is a trend.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::raw;
use super::ranking::Ranking;
use crate::analysis::{
    GroupOverTime, GroupValue, Interval, MeasureAnalysis, Missing, ModelRate, NoDecay, NoTrend, OverTime,
    Pace, SectionOverTime, Trend,
};
use crate::speech::{count, list, say};
use crate::study::{MeasureId, SectionId, Study, Treatment};
use std::borrow::Cow;

/// Adjusted p values below this are said as a trend.
const LEVEL: f64 = 0.05;

/// Up to this many rounds one that is odd takes part in half or more of all slopes between two, and moves their median as well.
const FEW_ROUNDS: usize = 4;

/// The measure whose comparison is shown.
pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let question = material.analysis.question?.measure;
    let measure = material.analysis.measure(question)?;
    match &measure.over_time {
        Ok(over) => Some(OverTimeOf::new(material, ranking, measure, over).part(None)),
        Err(why) => {
            let why = no_trend(*why)?;
            let mut part = Part::new(say!(
                "Nothing is said about {measure} over time",
                measure = name(material.study, question)
            ));
            part.say(why);
            Some(part)
        }
    }
}

/// The other measures, for the appendix; what the columns are is explained once in a report.
pub(in crate::report) fn appendix(material: &Material<'_>, ranking: &Ranking) -> Vec<Part> {
    let question = material.analysis.question.map(|question| question.measure);
    let has = |measure: &&MeasureAnalysis| measure.over_time.is_ok();
    let all = || material.analysis.measures.iter().filter(has).map(|measure| measure.measure);
    let explained = all().find(|&id| Some(id) == question).or_else(|| all().next());
    let others = material.analysis.measures.iter().filter(|measure| Some(measure.measure) != question);
    let told = others.filter_map(|measure| Some((measure, measure.over_time.as_ref().ok()?)));
    let part = |(measure, over): (&MeasureAnalysis, &OverTime)| {
        let explained = explained.filter(|&id| id != measure.measure);
        OverTimeOf::new(material, ranking, measure, over).part(explained)
    };
    told.map(part).collect()
}

fn name(study: &Study, measure: MeasureId) -> &str {
    names::measure(study, measure)
}

/// Before there are rounds enough, silence says more than a part without a number.
fn no_trend(why: NoTrend) -> Option<String> {
    match why {
        NoTrend::FewRounds | NoTrend::Part => None,
        NoTrend::Undated => Some(say!("A round has no day, so that no time can be counted.").to_owned()),
        NoTrend::Rating => Some(
            say!("The marks of a rating have an order and no equal steps, so that they have no rate and no area.")
                .to_owned(),
        ),
    }
}

struct OverTimeOf<'a> {
    study: &'a Study,
    measure: &'a MeasureAnalysis,
    over: &'a OverTime,
    groups: Vec<&'a GroupOverTime>,
    style: Style<'a>,
}

impl<'a> OverTimeOf<'a> {
    fn new(
        material: &'a Material<'a>,
        ranking: &Ranking,
        measure: &'a MeasureAnalysis,
        over: &'a OverTime,
    ) -> Self {
        let study = material.study;
        let mut groups: Vec<&GroupOverTime> = over.groups.iter().collect();
        groups.sort_by_key(|group| ranking.place(group.treatment));
        let style = Style::of(material, measure.measure);
        Self { study, measure, over, groups, style }
    }

    /// Rates are smaller than levels, and carry one decimal more.
    /// `GU a month`, `GU a cycle`.
    fn pace(&self) -> String {
        format!("{} {}", self.style.difference_unit(), self.step())
    }

    fn step(&self) -> &'static str {
        match self.over.pace {
            Pace::Month => say!("a month"),
            Pace::Cycle => say!("a cycle"),
        }
    }

    fn rate(&self, value: f64) -> String {
        numbers::signed(value, self.style.decimals + 1)
    }

    fn level(&self, value: f64) -> String {
        self.style.bare(value)
    }

    /// `explained` is the measure at which the report says what rate, level held, trend and tau are; `None` where it is this one.
    fn part(&self, explained: Option<MeasureId>) -> Part {
        let last = self.over.rounds.last().and_then(|&last| self.measure.round(last));
        let heading = self.heading();
        let heading = match last {
            Some(last) => raw::heading(self.study, self.measure, last, heading),
            None => heading,
        };
        let mut part = Part::new(heading);
        part.say(self.rate_words(explained));
        if let Some(fixed) = self.fixed() {
            part.say(fixed);
        }
        if let Some(last) = last {
            let raw = raw::beside_means(self.study, self.measure, last);
            for text in raw.into_iter().chain(raw::beside_intervals(self.study, self.measure, last)) {
                part.say(text);
            }
        }
        let sites = |over| names::sites_alone(self.study, self.measure.measure, over);
        let (of_rates, of_held) = self.over.over_sites;
        if let Some(sites) = sites(of_rates) {
            part.say(sites);
        }
        part.table(self.rates());
        let (held, shown) = (self.held_words(explained), self.held());
        part.say(held);
        if let Some(sites) = sites(of_held).filter(|_| of_held != of_rates) {
            part.say(sites);
        }
        part.table(shown);
        part.rests_on_levels(self.measure.measure, self.over.rounds.iter().copied());
        if explained.is_none() {
            part.say(say!("A trend is no difference between products, and none of these numbers reaches beyond the last round."));
        }
        self.decays(&mut part);
        part.list(self.lacking());
        part
    }

    /// What stands where it does by definition, and is in none of the numbers.
    fn fixed(&self) -> Option<String> {
        let blank = self.over.fixed.map(|_| {
            say!("Bare is the blank that all others are held against. Against itself its mean stands still by definition, so that it has no rate \
                 and no trend here.").to_owned()
        });
        let start = self.over.fixed_at.map(|round| {
            say!("At {round}, from which change counts, it is 0 by definition; {round} counts in none of these numbers.", round = names::round(self.study, round))
        });
        let both: Vec<String> = blank.into_iter().chain(start).collect();
        (!both.is_empty()).then(|| both.join(" "))
    }

    fn heading(&self) -> String {
        let rates = |product: bool| -> Vec<f64> {
            let own = self
                .groups
                .iter()
                .filter(|group| matches!(group.treatment, Treatment::Product(_)) == product);
            let own = own.filter(|group| product || group.treatment == Treatment::Bare);
            own.filter_map(|group| group.rate).map(|rate| rate.mean).collect()
        };
        let name = names::capital(name(self.study, self.measure.measure));
        let span = |values: &[f64]| {
            let low = self.rate(values.iter().copied().reduce(f64::min)?);
            let high = self.rate(values.iter().copied().reduce(f64::max)?);
            Some(if low == high { low } else { say!("{low} to {high}", low, high) })
        };
        let products = span(&rates(true)).map(|span| say!("products by {span}", span));
        let bare = span(&rates(false)).map(|span| say!("bare sections by {span}", span));
        let both: Vec<String> = products.into_iter().chain(bare).collect();
        if both.is_empty() {
            return say!("{name} over time", name);
        }
        say!("{name} over time: {rates} {pace}", name, rates = both.join(", "), pace = self.pace())
    }

    fn rate_words(&self, explained: Option<MeasureId>) -> String {
        let rounds: Vec<_> = self.over.rounds.iter().map(|&id| names::round(self.study, id)).collect();
        let (rounds, pace) = (list(&rounds, "and"), self.pace());
        let (interval, apart, model) = (self.interval_words(), self.apart(), self.agrees());
        if let Some(measure) = explained {
            return say!(
                "Levels at {rounds}; rate, level held, trend and tau are made as for {measure} over time. {interval}{apart}{model}",
                rounds,
                interval,
                apart,
                model,
                measure = name(self.study, measure)
            );
        }
        say!(
            "Rate: the slope of the least-squares line through the levels of one section at {rounds}, in {pace}, averaged over \
             the sections of a product. {interval} Beside it the median of all slopes between two rounds (Theil and Sen){odd}.{apart}{model}",
            odd = self.odd(),
            rounds,
            pace,
            interval,
            apart,
            model
        )
    }

    fn interval_words(&self) -> String {
        if self.study.spreads_differ {
            return names::own_interval(names::unit(self.study, self.measure.measure));
        }
        match self.over.rate_spread {
            Some(spread)
                if self.groups.iter().any(|group| group.rate.is_some_and(|r| r.interval.is_some())) =>
            {
                say!(
                    "Each interval is a 95 % t interval for that row by itself, on the spread of the rates between \
                     sections treated alike: {sd} {pace}, {degrees}.",
                    sd = numbers::fixed(spread.sd, self.style.decimals + 2),
                    pace = self.pace(),
                    degrees = numbers::degrees(spread.df)
                )
            }
            Some(_) => {
                say!("There is no interval, since sections treated alike do not differ at all.").to_owned()
            }
            None => say!("There is no interval, since no two sections are treated alike.").to_owned(),
        }
    }

    fn apart(&self) -> String {
        self.over.farthest_apart.map_or_else(String::new, |apart| {
            say!(
                " On no section do least squares and Theil-Sen differ by more than {most} {step}.",
                most = numbers::with_unit(
                    &numbers::most(apart, self.style.decimals + 1),
                    self.style.difference_unit()
                ),
                step = self.step()
            )
        })
    }

    /// How near the mixed model comes.
    fn agrees(&self) -> String {
        let Some(agrees) = self.over.agrees else { return String::new() };
        let decimals = self.style.decimals + 1;
        // A thousandth of the last figure shown is what the search for the likelihood leaves.
        let same = |apart: f64| apart * 10.0_f64.powi(i32::try_from(decimals).unwrap_or(0)) < 1e-3;
        let most =
            |apart: f64| numbers::with_unit(&numbers::most(apart, decimals), self.style.difference_unit());
        let step = self.step();
        let model = if agrees.all {
            say!("A mixed model of all levels")
        } else {
            say!("Where nothing is missing, a mixed model of all levels")
        };
        match (agrees.rates, agrees.ends) {
            (rates, None) if same(rates) => say!(" {model} gives the same rates.", model),
            (rates, Some(ends)) if same(rates) && same(ends) => {
                say!(" {model} gives the same rates and intervals.", model)
            }
            (rates, Some(ends)) if same(rates) => say!(
                " {model} gives the same rates, and intervals whose ends lie within {ends} {step} of these.",
                model,
                ends = most(ends),
                step
            ),
            (rates, None) => {
                say!(" {model} gives rates within {rates} {step} of these.", model, rates = most(rates), step)
            }
            (rates, Some(ends)) => say!(
                " {model} gives rates within {rates} {step} of these, and ends of their intervals within {ends} {step}.",
                model,
                rates = most(rates),
                ends = most(ends),
                step
            ),
        }
    }

    /// The rates of those of whom a section is not among the numbers of the tables: over all rounds, and over a shorter time.
    fn by_model(&self) -> Vec<String> {
        let last = self.over.rounds.last();
        let others = self.groups.iter().filter(|group| {
            let rate = group.rate.map(|rate| rate.n);
            !group.lacking.is_empty() || rate != group.by_model.map(|model| model.n)
        });
        let (whole, shorter): (Vec<_>, Vec<_>) = others
            .filter_map(|group| Some((group, group.by_model?)))
            .partition(|(_, model)| Some(&model.last) == last);
        let rates = |of: &[(&&GroupOverTime, ModelRate)], until: bool| {
            let rates: Vec<String> =
                of.iter().map(|(group, model)| self.model_rate(group, model, until)).collect();
            (!rates.is_empty()).then(|| list(&rates, "and"))
        };
        let whole = rates(&whole, false)
            .map(|rates| say!("The mixed model, with sections that lack rounds as well: {rates}.", rates));
        let shorter = rates(&shorter, true).map(|rates| {
            say!(
                "The mixed model over a shorter time, not to be held against the other rates: {rates}.",
                rates
            )
        });
        whole.into_iter().chain(shorter).collect()
    }

    fn model_rate(&self, group: &GroupOverTime, model: &ModelRate, until: bool) -> String {
        let rate = format!("{} {} {}", self.treatment(group), self.rate(model.mean), self.pace());
        let rate = if until {
            say!("{rate} up to {round}", rate, round = names::round(self.study, model.last))
        } else {
            rate
        };
        let units = names::units(self.study, self.measure.measure, model.n);
        let readings = count(model.readings as usize, "reading");
        match model.interval {
            Some(Interval { low, high }) => say!(
                "{rate} ({low} to {high}; {units}, {readings})",
                rate,
                low = self.rate(low),
                high = self.rate(high),
                units,
                readings
            ),
            None => say!("{rate} ({units}, {readings})", rate, units, readings),
        }
    }

    /// What the median of all slopes is good for.
    fn odd(&self) -> &'static str {
        if self.over.rounds.len() > FEW_ROUNDS { say!(", which one odd round moves less") } else { "" }
    }

    fn rates(&self) -> Table {
        let mut table = Table::new(&[
            say!("Product"),
            &names::units_head(self.study, self.measure.measure),
            say!(">Readings"),
            &say!(">Rate, {pace}", pace = self.pace()),
            say!(">95 % interval"),
            &say!(">Theil-Sen, {pace}", pace = self.pace()),
        ]);
        for group in self.groups.iter().filter(|group| group.rate.is_some()) {
            let mean = |value: Option<GroupValue>| {
                value.map_or_else(Figure::none, |value| Figure {
                    raw: Some(value.mean),
                    text: self.rate(value.mean),
                })
            };
            table.row(vec![
                self.named(group),
                Figure::from(group.rate.map_or(0, |rate| rate.n).to_string()),
                Figure::from(group.rate.map_or(0, |rate| rate.readings).to_string()),
                mean(group.rate),
                interval(group.rate, |value| self.rate(value)),
                mean(group.robust),
            ]);
        }
        table.behind(1).behind(1)
    }

    fn treatment(&self, group: &GroupOverTime) -> String {
        names::treatment(self.study, group.treatment)
    }

    fn named(&self, group: &GroupOverTime) -> Figure {
        Figure::from(self.treatment(group))
    }

    fn held_words(&self, explained: Option<MeasureId>) -> String {
        let rounds: Vec<_> = self.over.common.iter().map(|&id| names::round(self.study, id)).collect();
        let over = if self.over.common.len() == self.over.rounds.len() {
            say!("the same rounds").to_owned()
        } else {
            say!("the rounds that all these sections have ({rounds})", rounds = list(&rounds, "and"))
        };
        let interval = self.held_interval();
        if explained.is_some() {
            return say!("Level held: over {over}.{interval}", over, interval);
        }
        say!(
            "Level held: the area under the levels of a section over {over}, divided by their time; the level at which a product began is included.{interval} \
             Trend: whether the mean rate of its sections is told apart from none (p adjusted after Holm for all rows; none below 3 degrees of \
             freedom). Tau describes the mean of these sections alone: at 1 it rose and at −1 it fell from each round to every later one.",
            over,
            interval
        )
    }

    /// Which interval stands beside a level held.
    fn held_interval(&self) -> String {
        let any = self.groups.iter().any(|group| group.held.is_some_and(|held| held.interval.is_some()));
        match self.over.held_spread.filter(|_| any && !self.study.spreads_differ) {
            Some(spread) => say!(
                " Intervals: Student's t, each row by itself, on {sd} ({degrees}).",
                sd = numbers::with_unit(&numbers::fixed(spread.sd, self.style.decimals + 1), self.style.unit),
                degrees = numbers::degrees(spread.df)
            ),
            None => String::new(),
        }
    }

    fn held(&self) -> Table {
        let mut table = Table::new(&[
            say!("Product"),
            &names::units_head(self.study, self.measure.measure),
            &say!(">Level held, {unit}", unit = self.style.unit),
            say!(">95 % interval"),
            say!("Trend"),
            say!(">p (Holm)"),
            say!(">Tau"),
        ]);
        for group in self.groups.iter().filter(|group| group.held.is_some()) {
            table.row(vec![
                self.named(group),
                Figure::from(group.held.map_or(0, |held| held.n).to_string()),
                group.held.map_or_else(Figure::none, |held| self.style.cell(held.mean)),
                interval(group.held, |value| self.level(value)),
                group
                    .trend
                    .zip(group.rate)
                    .map_or_else(Figure::none, |(trend, rate)| Figure::from(direction(trend, rate.mean))),
                group.trend.map_or_else(Figure::none, |trend| Figure {
                    raw: Some(trend.p_holm),
                    text: numbers::probability(trend.p_holm),
                }),
                group.tau.map_or_else(Figure::none, |tau| Figure {
                    raw: Some(tau),
                    text: numbers::signed(tau, 2),
                }),
            ]);
        }
        table.behind(1)
    }

    fn decays(&self, part: &mut Part) {
        let found = || self.groups.iter().filter_map(|group| Some((group, group.decay.ok()?)));
        if found().next().is_none() {
            if !self.groups.iter().all(|group| group.decay == Err(NoDecay::TooFew)) {
                part.say(say!("The readings of no product, nor of bare, show it levelling off at a floor."));
            }
            return;
        }
        part.say(
            say!("These means level off: an exponential run to a floor fits them, its rate is told apart from a straight \
             line, and half of the way was gone within the rounds over that whole interval. The floor lies beyond the last round and is an extrapolation; nothing was read there."),
        );
        part.say(say!(
            "The intervals rest on how the sections of one product or of bare run apart, so that one section, or sections of which some were stopped, have no floor \
             (Student's t on its own sections, propagated to the first order: JCGM 100:2008, 5.1.2). A half of which the end is not in \
             sight has no interval."
        ));
        let mut table = Table::new(&[
            say!("Product"),
            match self.over.pace {
                Pace::Month => say!(">Half of the way after, months"),
                Pace::Cycle => say!(">Half of the way after, cycles"),
            },
            say!(">95 % interval"),
            &say!(">Floor, {unit}", unit = self.style.unit),
            say!(">95 % interval"),
        ]);
        let span = |interval: Option<Interval>, text: &dyn Fn(f64) -> String| {
            let words = |one: Interval| {
                Figure::from(say!("{low} to {high}", low = text(one.low), high = text(one.high)))
            };
            interval.map_or_else(Figure::none, words)
        };
        for (group, decay) in found() {
            let half = |value: f64| numbers::fixed(value, 1);
            table.row(vec![
                self.named(group),
                Figure { raw: Some(decay.half_life), text: half(decay.half_life) },
                span(decay.half_life_interval, &half),
                self.style.cell(decay.floor),
                span(decay.floor_interval, &|value| self.level(value)),
            ]);
        }
        part.table(table);
    }

    fn lacking(&self) -> Vec<String> {
        let last = self.over.rounds.last().map_or_else(Cow::default, |&id| names::round(self.study, id));
        let lacking: Vec<&str> = self
            .groups
            .iter()
            .flat_map(|group| &group.lacking)
            .filter(|&&section| {
                let others = [Missing::Stopped, Missing::Ended, Missing::BelowGauge];
                !others.into_iter().any(|why| self.left(section, why))
            })
            .map(|&section| names::section(self.study, section))
            .collect();
        let few = |one: &&SectionOverTime| one.rate.is_none() && one.held.is_some();
        let short: Vec<&str> = self
            .over
            .sections
            .iter()
            .filter(few)
            .map(|one| names::section(self.study, one.section))
            .collect();
        let lacking = (!lacking.is_empty()).then(|| {
            say!(
                "Not among them, since a shorter time is another question: {lacking} ({last} lacking).",
                last,
                lacking = list(&lacking, "and")
            )
        });
        let short = (!short.is_empty()).then(|| {
            say!("Without a rate, since fewer than 3 rounds were read: {short}.", short = list(&short, "and"))
        });
        self.survivors(&last).into_iter().chain(lacking).chain(short).chain(self.by_model()).collect()
    }

    /// Whether a section had gone for this reason by the last round.
    fn left(&self, section: SectionId, why: Missing) -> bool {
        let last = self.over.rounds.last();
        let place = self.measure.rounds.iter().position(|at| Some(&at.round) == last);
        let own = self.measure.sections.iter().find(|one| one.section == section);
        own.zip(place).is_some_and(|(own, place)| own.at[place].numbers.level == Err(why))
    }

    /// Whose numbers are those of the sections that lasted, and which way that moves them.
    fn survivors(&self, last: &str) -> Vec<String> {
        let of = |why: Missing| {
            let left = |group: &&GroupOverTime| {
                let own = group.lacking.iter().filter(|&&section| self.left(section, why));
                let codes: Vec<&str> = own.map(|&section| names::section(self.study, section)).collect();
                (!codes.is_empty()).then(|| {
                    say!(
                        "{codes} of {treatment}",
                        codes = list(&codes, "and"),
                        treatment = self.treatment(group)
                    )
                })
            };
            let left: Vec<String> = self.groups.iter().filter_map(left).collect();
            (!left.is_empty()).then(|| list(&left, "and"))
        };
        let stopped = of(Missing::Stopped).map(|sections| {
            say!(
                "Rates, levels held and trends are of the sections that lasted to {last}, and so flatter the treatment: {sections} were \
                 stopped before.",
                last,
                sections
            )
        });
        let ended = of(Missing::Ended).map(|sections| {
            say!("Rates, levels held and trends are of the sections that lasted to {last}, without {sections}, which ended before.", last, sections)
        });
        let below = of(Missing::BelowGauge).map(|sections| {
            say!("Not among them are {sections}, which were read at {last} below what the gauge can tell and have no number there.", sections, last)
        });
        stopped.into_iter().chain(ended).chain(below).collect()
    }
}

fn interval(value: Option<GroupValue>, text: impl Fn(f64) -> String) -> Figure {
    let interval = value.and_then(|value| value.interval);
    interval.map_or_else(Figure::none, |i| {
        Figure::from(say!("{low} to {high}", low = text(i.low), high = text(i.high)))
    })
}

fn direction(trend: Trend, rate: f64) -> &'static str {
    match trend.p_holm {
        p if p >= LEVEL => say!("not told"),
        _ if rate > 0.0 => say!("rises"),
        _ => say!("falls"),
    }
}
