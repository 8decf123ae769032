//! What a map says of the sections that it leaves to chance.

use super::Resolver;
use crate::diag::Finding;
use crate::study::{Blocks, Placed};
use crate::syntax::{Args, BlockKind, Statement};

impl<'t> Resolver<'t> {
    /// Of several sites any map may say it, once for all.
    pub(super) fn dealing(&mut self) {
        let lines: Vec<&'t Statement> =
            self.blocks(BlockKind::Map).flat_map(|block| &block.children).collect();
        let of = |word: &str| lines.iter().copied().filter(|line| line.verb == word).collect::<Vec<_>>();
        let (blocks, placed) = (of("blocks"), of("placed"));
        for again in blocks.iter().skip(1).chain(placed.iter().skip(1)) {
            self.findings.push(
                Finding::error("block-twice", again.span, format!("`{}` stands twice", again.verb))
                    .help("keep one of them; it holds for all maps"),
            );
        }
        self.study.dealing.blocks = blocks.first().and_then(|line| self.blocks_of(line));
        self.study.dealing.placed = placed.first().and_then(|line| self.placed(line));
    }

    fn blocks_of(&mut self, line: &Statement) -> Option<Blocks> {
        let &[measure, round] = line.names().as_slice() else { return None };
        let (measure, round) = (self.measure_id(measure), self.round_id(round));
        let &[number, each] = line.numbers().as_slice() else { return None };
        let (number, each) = (self.whole(number, 1), self.whole(each, 2));
        Some(Blocks {
            measure: measure?,
            round: round?,
            number: number? as usize,
            each: each? as usize,
            span: line.span,
        })
    }

    fn placed(&mut self, line: &Statement) -> Option<Placed> {
        let date = self.date(line);
        let seed = line.number().and_then(|seed| self.whole_within(seed, 0, u32::MAX));
        Some(Placed { date: date?.value, seed: u64::from(seed?), span: line.span })
    }
}
