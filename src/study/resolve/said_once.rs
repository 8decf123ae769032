//! Lines that a block has once: of two that say the same of one thing, one would be lost without a word.

use super::Resolver;
use crate::diag::Finding;
use crate::syntax::BlockKind;

/// The first words of such lines, by the block that they stand in. What may stand for several measures, or says several things
/// of the air or of a surface, is not among them.
const ONCE: &[(BlockKind, &[&str])] = &[
    (BlockKind::Study, &["author", "question", "language", "begins", "decide"]),
    (BlockKind::Surface, &["material", "size", "each", "film", "origin"]),
    (BlockKind::Specimens, &["material", "each", "spare"]),
    (BlockKind::Gauge, &["spot", "foot"]),
    (BlockKind::Measure, &["alike", "seen", "change", "adjust", "spent"]),
    (
        BlockKind::Supply,
        &[
            "mix", "dwell", "strength", "keeps", "pot", "bought", "uses", "density", "sheet", "packed",
            "batch", "amount",
        ],
    ),
    (
        BlockKind::Product,
        &[
            "bought", "batch", "uses", "flash", "dry", "cure", "mix", "keeps", "pot", "sheet", "packed",
            "tool", "density", "category",
        ],
    ),
    (BlockKind::Apply, &["on", "tape", "pace", "by"]),
    (BlockKind::Exposure, &["put", "brought", "faces"]),
    (BlockKind::Cycle, &["stop"]),
];

impl Resolver<'_> {
    /// Asks which of two lines is meant.
    pub(super) fn said_once(&mut self) {
        for block in &self.tree.blocks {
            let Some((_, words)) = ONCE.iter().find(|(kind, _)| *kind == block.kind) else { continue };
            for (at, line) in block.children.iter().enumerate() {
                let word = line.verb.as_str();
                let earlier = || block.children.get(..at)?.iter().find(|earlier| earlier.verb == word);
                let Some(first) = Some(word).filter(|word| words.contains(word)).and_then(|_| earlier())
                else {
                    continue;
                };
                let message = format!("`{word}` is said twice of one thing");
                self.findings.push(
                    Finding::error("clause-twice", line.span, message)
                        .related(first.span, "first here")
                        .help("keep one of the two lines"),
                );
            }
        }
    }
}
