//! Invented readings for the study made by hand, through the real reading and analysis.

use crate::fixture::ROUNDS;
use std::fmt::Write;
use tapeline::analysis::{Analysis, analyse};
use tapeline::readings::{Input, Readings, read};
use tapeline::study::{Study, Treatment};
use tapeline::text::FileId;

// A small generator with a fixed seed, so that the pages never change.
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn bell(&mut self) -> f64 {
        (0..6).map(|_| self.next()).sum::<f64>() - 3.0
    }
}

/// The long form, for every section, round and measure.
pub(crate) fn csv(study: &Study, rounds: usize) -> String {
    let mut noise = Noise(40_617);
    let mut out = String::from("date,round,section,measure,value,unit,reading\n");
    let starts: Vec<f64> = study.sections.iter().map(|_| 86.0 + 0.8 * noise.bell()).collect();
    for (index, round) in study.rounds.iter().enumerate().take(rounds) {
        for (section, start) in study.sections.iter().zip(&starts) {
            let months = ROUNDS[index].1.max(0) as f64 / 30.4;
            let (gain, loss) = match section.treatment {
                Treatment::Product(id) => {
                    (3.0, [0.35, 1.9, 0.4, 0.5, 1.0, 0.9, 1.4, 0.45, 1.9, 1.5, 0.6, 1.2][id.index()])
                }
                _ => (0.0, 2.1),
            };
            let level = start + if index > 0 { gain - loss * months } else { 0.0 } + 0.7 * noise.bell();
            for (measure, unit, mean, spread, times) in
                [("gloss-20", "GU", level, 0.2, 5), ("film", "um", 118.0, 1.5, 3)]
            {
                for reading in 1..=times {
                    let value = if section.code == "B3" && index == 5 && reading == 4 && times == 5 {
                        61.2
                    } else {
                        mean + spread * noise.bell()
                    };
                    let date = round.date().unwrap();
                    writeln!(
                        out,
                        "{date},{},{},{measure},{value:.1},{unit},{reading}",
                        round.name.value, section.code
                    )
                    .unwrap();
                }
            }
        }
    }
    out
}

pub(crate) fn readings(study: &Study, rounds: usize) -> Readings {
    let csv = csv(study, rounds);
    let input = Input { file: FileId(1), bytes: csv.as_bytes() };
    let (readings, findings) = read(study, &[Some(input)]);
    assert!(findings.is_empty(), "{findings:?}");
    readings
}

pub(crate) fn analysis(study: &Study, readings: &Readings) -> Analysis {
    analyse(study, readings, jiff::civil::date(2026, 10, 8))
}
