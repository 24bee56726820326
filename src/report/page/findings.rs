//! What was found about the rig, and the cautions.

use crate::garden::Garden;
use crate::plumbing::finding::Verdict;
use crate::plumbing::sheet;
use crate::report::cautions::cautions;
use crate::report::figures::Summary;
use crate::report::terminal::sheet::sentence;
use crate::report::terminal::summary::{misfit_line, shortage_lines};

/// A caution with the word that it begins with.
#[derive(Debug)]
pub(super) struct Caution {
    pub(super) head: String,
    pub(super) text: String,
}

/// What falls short, does not fit or should be looked at, a sentence or two each.
pub(super) fn findings(summary: &Summary, garden: &Garden) -> Vec<String> {
    let units = garden.units;
    let misfits = summary.does_not_fit.iter();
    let rig = sheet::sheet(garden);
    let plumbing = rig.loops.iter().flat_map(|l| {
        let findings = l.findings.iter().filter(|f| f.verdict != Verdict::Fine);
        findings.map(|f| format!("{}: {}", l.r#loop, sentence(f, l, units)))
    });
    shortage_lines(summary, units)
        .into_iter()
        .chain(misfits.map(|misfit| misfit_line(misfit, garden)))
        .chain(plumbing)
        .collect()
}

/// The garden's cautions.
pub(super) fn told_cautions(garden: &Garden) -> Vec<Caution> {
    cautions(garden)
        .into_iter()
        .map(|caution| match caution.split_once(": ") {
            Some((head, text)) if head.len() < 40 => Caution {
                head: format!("{head}:"),
                text: text.to_owned(),
            },
            _ => Caution {
                head: String::new(),
                text: caution,
            },
        })
        .collect()
}
