//! `calendar.ics`: the days of the study for any calendar (RFC 5545, iCalendar).

use super::desk::Desk;
use super::fault::Fault;
use crate::report::{CalendarEvent, CalendarView, calendar};
use jiff::civil::{Date, date};

/// Most bytes of a line, its end not counted (RFC 5545, section 3.1).
const WIDEST: usize = 75;

#[allow(clippy::unnecessary_wraps, reason = "every output has this signature")]
pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    Ok(text(&calendar(desk.material)))
}

fn text(view: &CalendarView) -> String {
    let mut out = Lines(String::new());
    let stamp = stamp(view.stamp);
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line(&format!("PRODID:-//tapeline//tapeline {}//EN", view.version));
    out.line("CALSCALE:GREGORIAN");
    for event in &view.events {
        out.event(event, &stamp);
    }
    // What has no day is a note (section 3.6.3); so a calendar without any has the one component that it needs.
    if !view.undated.is_empty() {
        out.line("BEGIN:VJOURNAL");
        out.line(&format!("UID:{}", view.undated_uid));
        out.line(&stamp);
        out.line(&format!("SUMMARY:{}", escaped(&view.undated_title)));
        out.line(&format!("DESCRIPTION:{}", escaped(&view.undated.join("\n"))));
        out.line("END:VJOURNAL");
    }
    out.line("END:VCALENDAR");
    out.0
}

/// Lines as the standard has them: folded, each with its end.
struct Lines(String);

impl Lines {
    fn event(&mut self, event: &CalendarEvent, stamp: &str) {
        // The end of an event is the first day that is no part of it (section 3.6.1).
        let end = event.last.tomorrow().unwrap_or(event.last);
        self.line("BEGIN:VEVENT");
        self.line(&format!("UID:{}", event.uid));
        self.line(stamp);
        self.line(&format!("DTSTART;VALUE=DATE:{}", digits(event.first)));
        self.line(&format!("DTEND;VALUE=DATE:{}", digits(end)));
        if let Some((every, times)) = event.again {
            self.line(&format!("RRULE:FREQ=DAILY;INTERVAL={every};COUNT={times}"));
        }
        self.line(&format!("SUMMARY:{}", escaped(&event.summary)));
        self.line(&format!("DESCRIPTION:{}", escaped(&event.lines.join("\n"))));
        // Whoever reads a panel on some day of a window is not busy on all of them.
        self.line("TRANSP:TRANSPARENT");
        self.line("END:VEVENT");
    }

    /// Adds a line, folded where it is wide; a character is never parted.
    fn line(&mut self, text: &str) {
        let mut width = 0;
        for c in text.chars() {
            if width + c.len_utf8() > WIDEST {
                self.0.push_str("\r\n ");
                width = 1;
            }
            self.0.push(c);
            width += c.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

/// When the entries were last revised (section 3.8.7.2): by the record and not by a clock, so that the same study gives the same bytes;
/// before anything is on record a day that obsoletes nothing. There is no `SEQUENCE` (section 3.8.7.4), which counts the revisions
/// that an organizer sends out: a page does not know those before it, and one that could fall would have a newer calendar refused.
fn stamp(day: Option<Date>) -> String {
    format!("DTSTAMP:{}T000000Z", digits(day.unwrap_or(date(1970, 1, 1))))
}

fn digits(day: Date) -> String {
    day.strftime("%Y%m%d").to_string()
}

/// A text value (section 3.3.11); characters of control have no place in it.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() && c != '\t' => {}
            c => out.push(c),
        }
    }
    out
}
