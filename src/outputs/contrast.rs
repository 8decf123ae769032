//! Colours that a study gives its pages: whether text and marks still stand out on their grounds, in light, dark and print.
//!
//! Contrast ratio and relative luminance as Web Content Accessibility Guidelines (WCAG) 2.2 define them; text needs 4.5:1
//! (success criterion 1.4.3), a mark 3:1 (1.4.11).

use super::templates::TOKENS;
use crate::diag::{Finding, Place};
use crate::text::{FileId, SourceFile, Span};
use std::collections::BTreeMap;

const TEXT: f64 = 4.5;
const MARK: f64 = 3.0;
const GROUNDS: &[&str] = &["--paper", "--sheet", "--panel", "--section"];
const PAPER: &[&str] = &["--paper"];

/// What stands on what, and the least contrast.
const PAIRS: &[(&[&str], &[&str], f64)] = &[
    (&["--ink", "--soft"], GROUNDS, TEXT),
    (&["--accent", "--one", "--two", "--three", "--four", "--five"], PAPER, TEXT),
    (&["--bare", "--avoid", "--rest", "--rule"], PAPER, MARK),
];

/// Where a palette holds.
const SCHEMES: [&str; 3] = ["on a light screen", "on a dark screen", "on paper"];

/// A colour with its words, and its place where the study gives it.
#[derive(Debug, Clone, Copy)]
struct Colour<'t> {
    words: &'t str,
    rgb: [f64; 3],
    own: Option<usize>,
}

type Palette<'t> = BTreeMap<&'t str, Colour<'t>>;

/// What no longer stands out, each colour once a scheme, at the place of the study's own colour; and each that is said in
/// a way that is not looked at.
pub(super) fn too_near(file: &SourceFile, source: FileId) -> Vec<Finding> {
    let mut palettes: [Palette<'_>; 3] = Default::default();
    fill(&mut palettes, TOKENS, false);
    let unread = fill(&mut palettes, &file.text, true);
    let mut findings: Vec<Finding> =
        unread.into_iter().map(|(at, name, words)| unchecked(source, at, name, words)).collect();
    for (palette, scheme) in palettes.iter().zip(SCHEMES) {
        for &(texts, grounds, least) in PAIRS {
            for &name in texts {
                let pairs = grounds.iter().filter_map(|&ground| {
                    let (on, below) = (palette.get(name)?, palette.get(ground)?);
                    let at = on.own.map(|at| (at, name)).or(below.own.map(|at| (at, ground)))?;
                    Some((contrast(on.rgb, below.rgb), at, (on.words, ground, below.words)))
                });
                let Some((ratio, (at, place), (own, ground, below))) =
                    pairs.min_by(|a, b| a.0.total_cmp(&b.0))
                else {
                    continue;
                };
                if ratio < least {
                    let place = Place { file: source, span: Span::new(at, at + place.len()) };
                    let message = format!(
                        "`{name}` {own} on `{ground}` {below} has a contrast of {:.1}:1 {scheme}, where {least}:1 is the least",
                        (ratio * 10.0).floor() / 10.0
                    );
                    findings.push(
                        Finding::warning("page-colours-too-near", place, message)
                            .help("take a darker colour on a light ground, a lighter one on a dark ground")
                            .about("pages"),
                    );
                }
            }
        }
    }
    findings
}

/// Takes every colour of a style sheet in order. One outside of `@media` holds in all schemes, as it does in a browser.
/// Gives those of the known names whose words are no colour that can be looked at, with their places.
fn fill<'t>(palettes: &mut [Palette<'t>; 3], text: &'t str, own: bool) -> Vec<(usize, &'t str, &'t str)> {
    let mut unread = Vec::new();
    for (root, _) in text.match_indices(":root") {
        let Some(open) = text[root..].find('{').map(|at| root + at + 1) else { continue };
        let end = text[open..].find('}').map_or(text.len(), |at| open + at);
        let before = &text[..root];
        // The rule is inside of the last `@media` where that is still open.
        let media = before
            .rfind("@media")
            .map(|at| &before[at..])
            .filter(|inside| inside.matches('{').count() > inside.matches('}').count());
        let schemes = match media {
            Some(media) if media.contains("dark") => 1..2,
            Some(media) if media.contains("print") => 2..3,
            Some(_) => continue,
            None => 0..3,
        };
        let schemes = if own || media.is_some() { schemes } else { 0..1 };
        let mut at = open;
        for line in text[open..end].split(';') {
            let start = at;
            at += line.len() + 1;
            let Some((name, words)) = line.split_once(':') else { continue };
            let (name, words) = (name.trim(), words.trim());
            let place = start + line.find(name).unwrap_or(0);
            let Some(rgb) = colour(words) else {
                let known =
                    PAIRS.iter().any(|(texts, grounds, _)| texts.contains(&name) || grounds.contains(&name));
                unread.extend(known.then_some((place, name, words)));
                continue;
            };
            for palette in &mut palettes[schemes.clone()] {
                palette.insert(name, Colour { words, rgb, own: own.then_some(place) });
            }
        }
    }
    unread
}

fn unchecked(source: FileId, at: usize, name: &str, words: &str) -> Finding {
    let place = Place { file: source, span: Span::new(at, at + name.len()) };
    let message = format!("whether `{name}` {words} stands out cannot be told");
    Finding::warning("page-colours-too-near", place, message)
        .help("write the colour in figures, as `#6a2c79`, without a share that lets its ground through")
        .about("pages")
}

/// The colours that CSS has names for since its first level, and a few more (CSS Color Module Level 4, 6.1).
const NAMED: &[(&str, &str)] = &[
    ("black", "#000000"),
    ("silver", "#c0c0c0"),
    ("gray", "#808080"),
    ("grey", "#808080"),
    ("white", "#ffffff"),
    ("maroon", "#800000"),
    ("red", "#ff0000"),
    ("purple", "#800080"),
    ("fuchsia", "#ff00ff"),
    ("green", "#008000"),
    ("lime", "#00ff00"),
    ("olive", "#808000"),
    ("yellow", "#ffff00"),
    ("navy", "#000080"),
    ("blue", "#0000ff"),
    ("teal", "#008080"),
    ("aqua", "#00ffff"),
    ("orange", "#ffa500"),
];

/// `#123456`, `#123`, `rgb(...)`, `hsl(...)` or a name, each channel from 0 to 1. A colour that lets its ground through is
/// none: what it looks like depends on what lies below.
fn colour(text: &str) -> Option<[f64; 3]> {
    let text = text.trim().to_ascii_lowercase();
    let text = NAMED.iter().find(|(name, _)| *name == text).map_or(text.as_str(), |(_, figures)| figures);
    if let Some(figures) = text.strip_prefix('#').filter(|figures| figures.is_ascii()) {
        let channel = |at: usize| {
            let pair = match figures.len() {
                6 => figures.get(2 * at..2 * at + 2)?.to_owned(),
                3 => figures.get(at..=at)?.repeat(2),
                _ => return None,
            };
            u8::from_str_radix(&pair, 16).ok().map(|value| f64::from(value) / 255.0)
        };
        return Some([channel(0)?, channel(1)?, channel(2)?]);
    }
    let (name, inside) = text.strip_suffix(')')?.split_once('(')?;
    let parts: Vec<&str> = inside.split([',', ' ', '/']).filter(|part| !part.is_empty()).collect();
    let share = |part: &str| part.strip_suffix('%')?.parse::<f64>().ok().map(|share| share / 100.0);
    let solid = |part: &&str| share(part).or_else(|| part.parse().ok()) == Some(1.0);
    let [one, two, three]: [&str; 3] = parts.get(..3)?.try_into().ok()?;
    if !parts.get(3).is_none_or(solid) {
        return None;
    }
    match name {
        "rgb" | "rgba" => {
            let channel =
                |part: &str| share(part).or_else(|| part.parse().ok().map(|value: f64| value / 255.0));
            Some([channel(one)?, channel(two)?, channel(three)?].map(|value| value.clamp(0.0, 1.0)))
        }
        "hsl" | "hsla" => Some(of_hue(one.trim_end_matches("deg").parse().ok()?, share(two)?, share(three)?)),
        _ => None,
    }
}

/// From hue in degrees, saturation and lightness (CSS Color Module Level 4, 7.1).
fn of_hue(hue: f64, saturation: f64, lightness: f64) -> [f64; 3] {
    let (saturation, lightness) = (saturation.clamp(0.0, 1.0), lightness.clamp(0.0, 1.0));
    let reach = saturation * lightness.min(1.0 - lightness);
    [0.0, 8.0, 4.0].map(|n| {
        let k: f64 = (n + hue / 30.0).rem_euclid(12.0);
        lightness - reach * (k - 3.0).min(9.0 - k).clamp(-1.0, 1.0)
    })
}

fn luminance(colour: [f64; 3]) -> f64 {
    let [r, g, b] = colour.map(|c| if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) });
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(style: &str) -> Vec<String> {
        let file = SourceFile::new("house/frame-style.css", style);
        let found = too_near(&file, FileId(1));
        found.iter().map(|finding| finding.message.clone()).collect()
    }

    /// White on black is 21:1 by definition; #767676 on white is 4.54:1, the lightest grey that text may have there.
    #[test]
    fn the_ratio_is_that_of_the_guidelines() {
        let ratio = |one: &str, other: &str| {
            contrast(colour(one).unwrap_or_default(), colour(other).unwrap_or_default())
        };
        assert!((ratio("#000", "#ffffff") - 21.0).abs() < 1e-9);
        assert!((ratio("#767676", "#fff") - 4.54).abs() < 0.005);
        assert!((ratio("#777777", "#fff") - 4.48).abs() < 0.005);
    }

    #[test]
    fn colours_that_do_not_stand_out_are_told_for_each_scheme() {
        let pale = told(":root { --accent: #ffff00; }");
        assert_eq!(pale.len(), 2, "{pale:?}");
        assert!(pale[0].starts_with(
            "`--accent` #ffff00 on `--paper` #ffffff has a contrast of 1.0:1 on a light screen"
        ));
        assert!(pale[1].contains("on paper, where 4.5:1"));
        let dark = told("@media (prefers-color-scheme: dark) { :root { --ink: #333333; --paper: #222222 } }");
        assert!(dark.iter().all(|one| one.contains("on a dark screen")) && dark.len() == 1, "{dark:?}");
    }

    #[test]
    fn colours_of_the_tool_and_those_that_stand_out_are_passed() {
        assert!(told("p { margin: 0 }").is_empty());
        assert!(told("@media print { :root { --accent: #222222 } }").is_empty());
        assert!(
            told(":root { --accent: #000080; --one: #123; --type: serif }")
                .iter()
                .all(|one| one.contains("dark"))
        );
    }

    /// Values of CSS Color Module Level 4: `hsl(120, 100%, 25%)` is `green`, and `rgb(255, 0, 0)` is `red`.
    #[test]
    fn colours_are_read_in_every_usual_spelling() {
        let same = |one: &str, other: &str| {
            let (one, other) = (colour(one).unwrap_or([9.0; 3]), colour(other).unwrap_or([8.0; 3]));
            one.iter().zip(other).all(|(one, other)| (one - other).abs() < 0.003)
        };
        for (one, other) in [
            ("hsl(120, 100%, 25.1%)", "green"),
            ("rgb(255 0 0)", "red"),
            ("RGB(100%, 0%, 0%)", "#f00"),
            ("rgba(106, 44, 121, 1)", "#6a2c79"),
            ("hsl(240deg 100% 25.1%)", "navy"),
            ("hsl(0 0% 100% / 100%)", "white"),
        ] {
            assert!(same(one, other), "{one}: {:?}", colour(one));
        }
        for none in ["rgba(0, 0, 0, 0.1)", "oklch(60% 0.1 20)", "var(--one)", "rebeccapurple", "rgb(1, 2)"] {
            assert_eq!(colour(none), None, "{none}");
        }
        let pale = told(":root { --accent: rgb(255, 255, 0); }");
        assert!(pale.len() == 2 && pale[0].contains("has a contrast of 1.0:1"), "{pale:?}");
        let unread = told(":root { --ink: transparent; --type: serif }");
        assert!(
            unread.len() == 1 && unread[0].contains("`--ink` transparent stands out cannot be told"),
            "{unread:?}"
        );
    }
}
