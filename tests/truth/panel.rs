//! The panel itself: readings nested in sections, gauge studies, neighbours on a map.

use serde::Deserialize;
use tapeline::stats::anova::{one_way, pooled_spread};
use tapeline::stats::components::crossed::{Components, crossed, interval_of_spread};
use tapeline::stats::components::mixed::{self, Mixed};
use tapeline::stats::components::nested::{Level, nested};
use tapeline::stats::map::moran::likeness;
use tapeline::stats::random::Generator;

use super::{near, read};

#[derive(Deserialize)]
struct NestedTruth {
    oxide: Oxide,
    kiwi: Kiwi,
}

#[derive(Deserialize)]
struct Oxide {
    relative: f64,
    mean_squares: [f64; 3],
    df: [usize; 3],
    components: [f64; 3],
    sds: [f64; 3],
    percents: [f64; 3],
    mean: f64,
    error: f64,
    interval: (f64, f64),
    values: Vec<f64>,
}

#[derive(Deserialize)]
struct Kiwi {
    relative: f64,
    relative_of_p: f64,
    f: f64,
    df: [f64; 2],
    p: f64,
    f_of_vines: f64,
    p_of_vines: f64,
    between_plots: f64,
    between_vines: f64,
    means: [f64; 4],
    error_of_mean: f64,
    half_width: f64,
    error_of_difference: f64,
    f_with_blocks: f64,
    df_with_blocks: [f64; 2],
    p_with_blocks: f64,
    shade: Vec<usize>,
    block: Vec<usize>,
    plots: Vec<[f64; 4]>,
}

#[test]
fn nested_components_agree_with_the_published_analysis() {
    let truth = read::<NestedTruth>(include_str!("nested.toml")).oxide;
    let found = nested(&truth.values, &[8, 3, 3]).unwrap();
    let total: f64 = found.levels.iter().map(Level::held).sum();
    for (at, level) in found.levels.iter().enumerate() {
        near("mean square", level.mean_square, truth.mean_squares[at], (truth.relative, 0.0));
        assert_eq!(level.df, truth.df[at]);
        near("component", level.component, truth.components[at], (truth.relative, 0.0));
        near("standard deviation", level.held().sqrt(), truth.sds[at], (truth.relative, 0.0));
        near("percent", 100.0 * level.held() / total, truth.percents[at], (truth.relative, 0.0));
    }
    near("mean", found.mean, truth.mean, (truth.relative, 0.0));
    near("error", found.error, truth.error, (truth.relative, 0.0));
    let (low, high) = found.mean_interval(0.95).unwrap();
    near("low", low, truth.interval.0, (truth.relative, 0.0));
    near("high", high, truth.interval.1, (truth.relative, 0.0));
}

impl Kiwi {
    /// One column of every vine for each number below `count` that its plot has in `kinds`, from `first` on.
    fn columns(kinds: &[usize], first: usize, count: usize) -> Vec<Vec<f64>> {
        let of_vine = |kind: usize| kinds.iter().flat_map(move |&one| [f64::from(u8::from(one == kind)); 4]);
        (first..count).map(|kind| of_vine(kind).collect()).collect()
    }

    fn fit(&self, columns: &[Vec<f64>]) -> Mixed {
        let plots: Vec<usize> = (0..self.plots.len()).flat_map(|plot| [plot; 4]).collect();
        mixed::fit(columns, &self.plots.concat(), &plots).unwrap()
    }
}

/// Each shade against the first, in columns that begin with one for each shade.
fn shades(columns: usize) -> Vec<Vec<f64>> {
    let weight = |shade: usize, at: usize| if at == 0 { -1.0 } else { f64::from(u8::from(at == shade)) };
    (1..4)
        .map(|shade| (0..columns).map(|at| if at < 4 { weight(shade, at) } else { 0.0 }).collect())
        .collect()
}

#[test]
fn the_mixed_model_agrees_with_the_test_over_sections() {
    let truth = read::<NestedTruth>(include_str!("nested.toml")).kiwi;
    let (tolerance, of_p) = ((truth.relative, 0.0), (truth.relative_of_p, 0.0));
    let model = truth.fit(&Kiwi::columns(&truth.shade, 0, 4));
    near("between plots", model.sections, truth.between_plots, tolerance);
    near("between vines", model.readings, truth.between_vines, tolerance);
    for shade in 0..4 {
        let mut weights = vec![0.0; 4];
        weights[shade] = 1.0;
        let mean = model.effect(&weights).unwrap();
        near("mean", mean.value, truth.means[shade], tolerance);
        near("error of the mean", mean.error, truth.error_of_mean, tolerance);
        let (low, high) = mean.interval(0.95).unwrap();
        near("half width", (high - low) / 2.0, truth.half_width, tolerance);
    }
    let difference = model.effect(&[-1.0, 1.0, 0.0, 0.0]).unwrap();
    near("error of a difference", difference.error, truth.error_of_difference, tolerance);
    let joint = model.joint(&shades(4)).unwrap();
    near("F", joint.f, truth.f, tolerance);
    near("df of shades", joint.df1, truth.df[0], tolerance);
    near("df of plots", joint.df2, truth.df[1], tolerance);
    near("p", joint.p, truth.p, of_p);

    let mut columns = Kiwi::columns(&truth.shade, 0, 4);
    columns.extend(Kiwi::columns(&truth.block, 1, 3));
    let joint = truth.fit(&columns).joint(&shades(6)).unwrap();
    near("F with blocks", joint.f, truth.f_with_blocks, tolerance);
    near("df with blocks", joint.df2, truth.df_with_blocks[1], tolerance);
    near("p with blocks", joint.p, truth.p_with_blocks, of_p);
}

/// What a test on vines would say, and that the test on plots says another thing.
#[test]
fn readings_taken_for_sections_would_mislead() {
    let truth = read::<NestedTruth>(include_str!("nested.toml")).kiwi;
    let of_shade = |shade: usize| {
        let plots = truth.plots.iter().zip(&truth.shade).filter(move |&(_, &other)| other == shade);
        plots.flat_map(|(plot, _)| plot.iter().copied()).collect::<Vec<f64>>()
    };
    let table = one_way(&(0..4).map(of_shade).collect::<Vec<_>>()).unwrap();
    near("F of vines", table.f, truth.f_of_vines, (truth.relative, 0.0));
    near("p of vines", table.p, truth.p_of_vines, (truth.relative_of_p, 0.0));
    assert!(table.p * 1e6 < truth.p);
}

#[derive(Deserialize)]
struct GaugeTruth {
    machines: Machines,
    cells: Cells,
}

#[derive(Deserialize)]
struct Machines {
    relative: f64,
    squares: [f64; 4],
    df: [usize; 4],
    ratios: [f64; 3],
    gauge_percents: [f64; 2],
    p_interaction: f64,
    with_interaction: [f64; 4],
    sds_with: [f64; 5],
    without_interaction: [f64; 4],
    sds_without: [f64; 5],
    values: Vec<f64>,
}

#[derive(Deserialize)]
struct Cells {
    relative: f64,
    sd: f64,
    df: f64,
    interval: (f64, f64),
    limit: f64,
    values: Vec<[f64; 5]>,
}

fn check(found: Components, components: [f64; 4], sds: [f64; 5], tolerance: (f64, f64)) {
    let all = [found.repeatability, found.people, found.interaction, found.sections];
    all.iter().zip(components).for_each(|(value, expected)| near("component", *value, expected, tolerance));
    let all =
        [found.repeatability, found.between_people(), found.gauge(), found.sections.max(0.0), found.total()];
    all.iter().zip(sds).for_each(|(value, expected)| near("sd", value.sqrt(), expected, tolerance));
}

#[test]
fn gauge_studies_agree_with_the_published_analysis() {
    let truth = read::<GaugeTruth>(include_str!("gauge.toml")).machines;
    let tolerance = (truth.relative, 1e-12);
    let table = crossed(&truth.values, [6, 3, 3]).unwrap();
    let sources = [table.sections, table.people, table.interaction, table.repeats];
    for (at, source) in sources.iter().enumerate() {
        near("sum of squares", source.squares, truth.squares[at], tolerance);
        assert_eq!(source.df, truth.df[at]);
    }
    let over = [table.interaction, table.interaction, table.repeats];
    for ((one, other), expected) in sources.iter().zip(over).zip(truth.ratios) {
        near("F", one.mean_square() / other.mean_square(), expected, tolerance);
    }
    for (found, expected) in
        [table.components().unwrap(), table.pooled_components()].iter().zip(truth.gauge_percents)
    {
        near("percent", 100.0 * found.gauge() / found.total(), expected, tolerance);
    }
    near("p of the interaction", table.p_interaction().unwrap(), truth.p_interaction, (truth.relative, 0.0));
    check(table.components().unwrap(), truth.with_interaction, truth.sds_with, tolerance);
    check(table.pooled_components(), truth.without_interaction, truth.sds_without, tolerance);
}

#[test]
fn the_repeatability_of_cells_has_its_interval() {
    let truth = read::<GaugeTruth>(include_str!("gauge.toml")).cells;
    let tolerance = (truth.relative, 0.0);
    let spread = pooled_spread(&truth.values).unwrap();
    near("sd", spread.sd, truth.sd, tolerance);
    near("df", spread.df, truth.df, tolerance);
    near("limit for two readings", 2.8 * spread.sd, truth.limit, tolerance);
    let (low, high) = interval_of_spread(spread, 0.95).unwrap();
    near("low", low, truth.interval.0, tolerance);
    near("high", high, truth.interval.1, tolerance);
}

#[derive(Deserialize)]
struct Neighbours {
    relative: f64,
    index: f64,
    expected: f64,
    values: Vec<f64>,
    beside: Vec<Vec<usize>>,
}

#[test]
fn likeness_of_neighbours_agrees_with_the_published_map() {
    let truth: Neighbours = read(include_str!("neighbours.toml"));
    let beside: Vec<Vec<usize>> =
        truth.beside.iter().map(|all| all.iter().map(|place| place - 1).collect()).collect();
    let found =
        likeness(&truth.values, (&beside, &vec![0; beside.len()]), 999, &mut Generator::new(1)).unwrap();
    near("Moran's I", found.index, truth.index, (truth.relative, 0.0));
    near("by chance", found.expected, truth.expected, (truth.relative, 0.0));
    assert_eq!((found.places, found.p), (49, 0.001));
}
