//! Tests of what people see: every page from a study made by hand.

mod fixture;
mod numbers;

use tapeline::catalog::Catalog;
use tapeline::outputs::build;
use tapeline::report::{Input, Material};
use tapeline::text::{SourceFile, Sources};

fn with_material<T>(study: &tapeline::study::Study, f: impl FnOnce(&Material<'_>) -> T) -> T {
    let readings = numbers::readings(study, 9);
    let analysis = numbers::analysis(study, &readings);
    let sources = Sources::new(SourceFile::new("lid.study", "study \"Twelve\"\n"));
    let inputs = [Input { name: "lid.study".into(), sha256: "ab".repeat(32) }];
    f(&Material {
        study,
        catalog: Catalog::built_in(),
        readings: &readings,
        analysis: &analysis,
        findings: &[],
        sources: &sources,
        inputs: &inputs,
        date: jiff::civil::date(2026, 10, 8),
        version: "0.1.0",
    })
}

#[test]
fn look() {
    let artifacts = with_material(&fixture::study(), |material| build(material).unwrap());
    for artifact in artifacts {
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(artifact.name);
        let mut file =
            std::fs::OpenOptions::new().write(true).create(true).truncate(true).open(path).unwrap();
        std::io::Write::write_all(&mut file, &artifact.bytes).unwrap();
    }
}
