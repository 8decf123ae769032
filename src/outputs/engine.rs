//! Templates: rendered with auto-escape in the language of the page, and strict about names that a view lacks.
//!
//! A block that the study changes takes the place of the built-in one by inheritance; whatever it leaves alone stays
//! that of the tool.

use super::fault::Fault;
use super::own::{Own, own_blocks};
use super::templates::{FRAME, FRAME_STYLE, TOKENS, Template};
use crate::markup;
use crate::report::Material;
use crate::speech::{filled, said, say, spoken};
use crate::text::source_hash;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Kwargs, Serde, Value};
use minijinja::{AutoEscape, Environment, Error, Output, State, UndefinedBehavior};

/// A view as the engine takes it.
pub(super) fn value(view: &impl serde::Serialize) -> Value {
    Value::from(Serde(view))
}

/// Renders one template with the blocks of it that the study changes. The engine holds that template alone, so a
/// command pays for what it prints.
pub(super) fn render(material: &Material<'_>, template: Template, view: &Value) -> Result<String, Fault> {
    render_with(&own_blocks(material, template), template, view)
}

/// Instructions of the template engine that a page with blocks of the study may take: a thousand times what a long report takes.
const MOST_WORK: u64 = 200_000_000;

fn render_with(own: &[Own<'_>], template: Template, view: &Value) -> Result<String, Fault> {
    let fault = |error: &Error| Fault::new(format!("{}: {error:#}", template.name));
    let mut env = environment().map_err(|error| fault(&error))?;
    env.add_template(template.name, template.source).map_err(|error| fault(&error))?;
    // A loop of a study in a loop would keep everybody waiting; the built-in pages have as many turns as the study has rows.
    env.set_fuel((!own.is_empty()).then_some(MOST_WORK));
    for own in own {
        // Alone first: whatever it leaves open would be told of the words that stand around it.
        let alone = env.add_template_owned(own.name().to_owned(), own.text().to_owned());
        alone.map_err(|error| own.unsound(&error))?;
        let added = env.add_template_owned(own.name().to_owned(), own.source());
        added.map_err(|error| own.fault(&error, view))?;
    }
    let last = own.last().map_or(template.name, |own| own.name());
    env.get_template(last).and_then(|page| page.render(view)).map_err(|error| {
        // What a block leaves behind may stop the page further on.
        let found = own.iter().find(|own| error.name() == Some(own.name())).or(own.last());
        found.map_or_else(|| fault(&error), |own| own.fault(&error, view))
    })
}

fn environment() -> Result<Environment<'static>, Error> {
    let mut env = Environment::new();
    env.set_debug(false);
    env.set_undefined_behavior(UndefinedBehavior::Strict);
    let mut syntax = SyntaxConfig::builder();
    syntax.trim_blocks(true).lstrip_blocks(true).keep_trailing_newline(true);
    env.set_syntax(syntax.build()?);
    env.set_auto_escape_callback(|name| AutoEscape::Custom(language(name).to_owned().into()));
    env.set_formatter(escaped);
    // No block takes the escape off a text.
    env.remove_filter("safe");
    env.add_filter("prose", |text: String| Value::from_safe_string(markup::prose(&text)));
    env.add_filter("markdown", |text: String| Value::from_safe_string(page_of(&text)));
    env.add_filter("capital", capital);
    env.add_filter("units", |text: String| markup::with_units(&text));
    env.add_function("say", say_in_template);
    env.add_function("house_mark", house_mark);
    env.add_function("house_end", house_end);
    Ok(env)
}

fn language(name: &str) -> &'static str {
    if std::path::Path::new(name).extension().is_some_and(|ending| ending == "md") {
        "markdown"
    } else {
        "html"
    }
}

fn escaped(out: &mut Output<'_>, state: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    let text = value.to_string();
    let markdown = matches!(state.auto_escape(), AutoEscape::Custom(name) if &**name == "markdown");
    let written = match (value.is_safe(), markdown) {
        (true, _) => text,
        (false, true) => markup::markdown_text(&text),
        (false, false) => markup::escape(&text),
    };
    out.write_str(&written).map_err(Error::from)
}

#[allow(clippy::needless_pass_by_value, reason = "the engine gives arguments by value")]
// A sentence of a template in the language that is spoken, its holes filled from the arguments of those names.
fn say_in_template(english: &str, holes: Kwargs) -> Result<String, Error> {
    let names: Vec<String> = holes.args().map(str::to_owned).collect();
    let values: Vec<String> = names.iter().map(|name| holes.get(name)).collect::<Result<_, _>>()?;
    let pairs = names.iter().zip(&values);
    let holes: Vec<(&str, &dyn std::fmt::Display)> =
        pairs.map(|(name, value)| (name.as_str(), value as &dyn std::fmt::Display)).collect();
    Ok(filled(said(english), &holes))
}

// The line between the answer of the tool and what the study puts beside it.
fn house_mark(state: &State<'_, '_>, answered: bool) -> Value {
    let words = if answered {
        say!(
            "House text: the lines below are the study's own words. The answer of the tool stands above them."
        )
    } else {
        say!(
            "House text: the lines below are the study's own words. The answer of the tool stands below them."
        )
    };
    set_apart(state, words)
}

// The line behind it, from which on the tool speaks again.
fn house_end(state: &State<'_, '_>) -> Value {
    set_apart(state, say!("End of the house text."))
}

fn set_apart(state: &State<'_, '_>, words: &str) -> Value {
    Value::from_safe_string(match state.auto_escape() {
        AutoEscape::Custom(name) if name == "markdown" => format!("\n**{words}**\n\n"),
        _ => format!("<p class=\"house-mark\"><strong>{}</strong></p>\n", markup::escape(words)),
    })
}

// The first letter as a capital, the others as they are.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

// The user's Markdown as HTML, quoted so that it stays in its place.
fn page_of(markdown: &str) -> String {
    markup::html(&markup::prose(markdown), say!("Table"), &mut |_| None)
}

const PICTURE: &str = include_str!("../../templates/picture.css");
const PAGE: &str = include_str!("../../templates/page.css");
/// What no style of a study can hide; only a page with a style or blocks of the study needs it.
const KEPT: &str = include_str!("../../templates/kept.css");

/// What a page needs besides its body.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame<'a> {
    /// Title of the window.
    pub(super) title: &'a str,
    /// Left half of the foot on paper: study, date, version.
    pub(super) foot: &'a str,
    /// Rules that only this page has.
    pub(super) style: &'a str,
    /// What the page can do besides; it says all without it. Empty for none.
    pub(super) script: &'a str,
    /// Whether the page shows photos that lie beside it.
    pub(super) photos: bool,
    /// Whether the blocks of the study reach it. They reach no page that people work by: a rule of style could hide
    /// its hazards.
    pub(super) own: bool,
}

/// A whole page around a body that is markup already: style inside, nothing to fetch.
pub(super) fn page(material: &Material<'_>, frame: Frame<'_>, body: &str) -> Result<String, Fault> {
    let own_style = if frame.own { own_style(material)? } else { String::new() };
    // A block of HTML has elements with a style of their own.
    let changed = frame.own && material.blocks.iter().any(|block| block.page.ends_with("html"));
    let kept = if changed || !own_style.trim().is_empty() { KEPT } else { "" };
    let style = [kept, TOKENS, PICTURE, PAGE, frame.style, &paper(frame.foot), &own_style].concat();
    let body = markup::hold_words(body);
    let view = minijinja::context! {
        title => frame.title,
        lang => spoken().tag(),
        style => Value::from_safe_string(style),
        script => Value::from_safe_string(frame.script.to_owned()),
        // The policy of the page lets through this script and no other.
        photos => frame.photos,
        script_hash => Value::from_safe_string(source_hash(frame.script)),
        body => Value::from_safe_string(body),
    };
    let own = if frame.own { own_blocks(material, FRAME) } else { Vec::new() };
    render_with(&own, FRAME, &view)
}

/// Rules of style that the study adds to those of its pages and pictures.
pub(super) fn own_style(material: &Material<'_>) -> Result<String, Fault> {
    render(material, FRAME_STYLE, &minijinja::context! {})
}

// The paper is the one in the reader's printer. Margin boxes are the only place where a browser counts pages (CSS Paged Media Module Level 3).
fn paper(foot: &str) -> String {
    // A long title breaks the line; the version then stays beside its name.
    let foot = foot.replace("tapeline ", "tapeline\u{a0}");
    let pages = say!("page {n} of {all}", n = "\" counter(page) \"", all = "\" counter(pages)");
    format!(
        "@page {{ margin: 14mm 14mm 18mm; \
         @bottom-left {{ content: {}; font: 9pt system-ui, sans-serif; color: #333; width: 84%; }} \
         @bottom-right {{ content: \"{pages}; font: 9pt system-ui, sans-serif; color: #333; }} }}\n",
        markup::css_string(&foot)
    )
}
