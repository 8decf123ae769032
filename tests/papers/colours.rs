//! Colours keep their contrast in light, dark and print: text 7:1, marks 3:1 (WCAG 2.2, 1.4.6 and 1.4.11).

use std::collections::BTreeMap;

const TOKENS: &str = include_str!("../../templates/tokens.css");

type Palette = BTreeMap<&'static str, [f64; 3]>;

fn palettes() -> Vec<Palette> {
    let colour = |text: &str| {
        let channel = |at: usize| f64::from(u8::from_str_radix(&text[at..at + 2], 16).unwrap()) / 255.0;
        [channel(1), channel(3), channel(5)]
    };
    let block = |block: &'static str| {
        let lines = block
            .lines()
            .filter_map(|line| line.trim().strip_prefix("--")?.trim_end_matches(';').split_once(": "));
        let colours = lines.filter(|(_, value)| value.starts_with('#'));
        colours.map(|(name, value)| (name, colour(value))).collect::<Palette>()
    };
    TOKENS.split(":root {").skip(1).map(block).collect()
}

// Relative luminance and contrast ratio as WCAG 2.2 defines them.
fn luminance(colour: [f64; 3]) -> f64 {
    let linear = colour.map(|c| if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) });
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}

fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn the_formula_gives_the_published_extremes() {
    assert!((contrast([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    assert!((contrast([0.5; 3], [0.5; 3]) - 1.0).abs() < 1e-9);
}

#[test]
fn text_and_marks_stand_out_on_every_ground() {
    let palettes = palettes();
    assert_eq!(palettes.len(), 3, "light, dark and print");
    for (palette, name) in palettes.iter().zip(["light", "dark", "print"]) {
        for ground in ["paper", "sheet", "panel", "section"] {
            for text in ["ink", "soft"] {
                let ratio = contrast(palette[text], palette[ground]);
                assert!(ratio >= 7.0, "{name}: {text} on {ground} is {ratio:.2}");
            }
        }
        for text in ["accent", "one", "two", "three", "four", "five"] {
            let ratio = contrast(palette[text], palette["paper"]);
            assert!(ratio >= 7.0 || name == "light" && ratio >= 6.0, "{name}: {text} is {ratio:.2}");
        }
        for mark in ["bare", "avoid", "rest", "hazard", "rule"] {
            let ratio = contrast(palette[mark], palette["paper"]);
            assert!(ratio >= 3.0, "{name}: {mark} is {ratio:.2}");
        }
        assert!(contrast(palette["soft"], palette["bare-wash"]) >= 4.5, "{name}: words on the band");
    }
}

/// How a colour looks to whoever lacks one kind of cone, or on a grey printer.
///
/// Machado, Oliveira and Fernandes (2009), IEEE Transactions on Visualization and Computer Graphics 15 (6), 1291-1298,
/// table of severity 1.0, on linear light; grey is the relative luminance of WCAG 2.2.
const VISIONS: [(&str, [[f64; 3]; 3]); 5] = [
    ("as it is", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
    ("grey", [[0.2126, 0.7152, 0.0722]; 3]),
];

fn seen(colour: [f64; 3], vision: &[[f64; 3]; 3]) -> [f64; 3] {
    let linear = colour.map(|c| if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) });
    let mixed =
        vision.map(|row| row.iter().zip(linear).map(|(share, c)| share * c).sum::<f64>().clamp(0.0, 1.0));
    mixed.map(|c| if c <= 0.003_130_8 { c * 12.92 } else { 1.055 * c.powf(1.0 / 2.4) - 0.055 })
}

#[test]
fn white_and_greys_look_alike_to_everyone() {
    for (name, vision) in &VISIONS {
        for grey in [0.0, 0.5, 1.0] {
            let looks = seen([grey; 3], vision);
            assert!(looks.iter().all(|c| (c - grey).abs() < 1e-4), "{name}: {looks:?}");
        }
    }
}

/// Lines and marks stand out from the paper, and from the band of bare sections that they cross, for every eye and in
/// grey. Products are told apart by name, panel and shape, never by colour alone.
#[test]
fn lines_and_marks_stand_out_to_every_eye() {
    for (palette, theme) in palettes().iter().zip(["light", "dark", "print"]) {
        for (name, vision) in &VISIONS {
            let ratio =
                |one: &str, other: &str| contrast(seen(palette[one], vision), seen(palette[other], vision));
            for line in ["one", "two", "three", "four", "five", "ink", "soft"] {
                // They are the colours of names too, which stand on the paper (WCAG 2.2, 1.4.3).
                for (ground, least) in [("paper", 4.5), ("bare-wash", 3.0), ("accent-wash", 3.0)] {
                    let ratio = ratio(line, ground);
                    assert!(ratio >= least, "{theme}, {name}: {line} on {ground} is {ratio:.2}");
                }
            }
            for line in ["rest", "bare"] {
                let ratio = ratio(line, "paper");
                assert!(ratio >= 3.0, "{theme}, {name}: {line} on paper is {ratio:.2}");
            }
            // The steps of the panel rise in one direction, so that they keep their order without any hue.
            let steps = ["heat-0", "heat-1", "heat-2", "heat-3"].map(|step| ratio(step, "paper"));
            assert!(steps.windows(2).all(|pair| pair[1] > 1.15 * pair[0]), "{theme}, {name}: {steps:?}");
        }
    }
}
