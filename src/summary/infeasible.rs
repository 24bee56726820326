//! What the garden asks for and cannot have, and why.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::garden::Garden;
use crate::garden::crop::{Crop, SolutionRange};
use crate::garden::holes::{self, Layout, PlantingHole};
use crate::garden::rig::Bank;
use crate::plan::SeedPlantNotKept;
use crate::planner::problem::Problem;
use crate::summary::season::{self, FailureReason};

/// Something that cannot be grown as stated.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "what")]
pub enum Infeasibility {
    /// A crop grows taller than the room above some holes of a bank.
    TooTall {
        /// Key of the crop.
        crop: String,
        /// How tall it is when ripe \[m\].
        height: f64,
        /// Name of the bank.
        bank: String,
        /// The room above those holes \[m\].
        headroom: f64,
        /// How many of the bank's holes are too low.
        holes: usize,
        /// How many the bank has.
        of: usize,
    },
    /// A crop never ripens in a bank in the time planned.
    NeverInSeason {
        /// Key of the crop.
        crop: String,
        /// Name of the bank.
        bank: String,
        /// What stops it on a good part of the days, the commonest first; nothing where its
        /// seedlings are what is not ready in time.
        why: Vec<FailureReason>,
    },
    /// No crop of a want can be grown at all.
    NothingFor {
        /// Name of the want.
        want: String,
    },
    /// Two crops ask for different solutions, so they never stand in one loop together.
    SolutionsDiffer {
        /// Keys of the crops.
        crops: (String, String),
        /// In what.
        by: Vec<SolutionPart>,
    },
    /// A plant cannot be kept for its seed.
    NotKept(SeedPlantNotKept),
}

/// What a crop may ask of a solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SolutionPart {
    /// A band of conductivity.
    Ec,
    /// A band of pH.
    Ph,
}

/// All that does not fit, crop by crop.
#[must_use]
pub fn infeasibilities(garden: &Garden, problem: &Problem) -> Vec<Infeasibility> {
    let layout = holes::layout(garden);
    let banks: Vec<&Bank> = garden.loops.iter().flat_map(|l| &l.banks).collect();
    let growing = growable_by_bank(problem, &layout);
    let wanted = wanted(garden);
    let mut misfits = Vec::new();
    for crop in garden.crops.iter().filter(|c| wanted.contains(&*c.key)) {
        for (at, bank) in banks.iter().enumerate() {
            let holes: Vec<&PlantingHole> = layout.holes.iter().filter(|h| h.bank == at).collect();
            let tall = too_tall(crop, bank, &holes);
            let grows = growing.contains(&(at, crop.key.as_str()));
            let all_low =
                matches!(&tall, Some(Infeasibility::TooTall { holes, of, .. }) if holes == of);
            misfits.extend(tall);
            if !grows && !all_low {
                misfits.push(Infeasibility::NeverInSeason {
                    crop: crop.key.clone(),
                    bank: bank.name.clone(),
                    why: season::why_never(garden, bank, crop),
                });
            }
        }
    }
    misfits.extend(wants_without_crop(garden, &growing));
    misfits.extend(incompatible_solutions(garden, problem));
    misfits
}

/// Banks, with the keys of the crops that may stand in some hole of them at some time.
fn growable_by_bank<'a>(problem: &'a Problem, layout: &Layout) -> BTreeSet<(usize, &'a str)> {
    let bank_of: BTreeMap<&str, usize> = layout
        .holes
        .iter()
        .map(|h| (h.id.as_str(), h.bank))
        .collect();
    let crops_of: Vec<BTreeSet<&str>> = problem
        .kinds
        .iter()
        .map(|kind| kind.batches.iter().map(|b| b.crop.as_str()).collect())
        .collect();
    problem
        .holes
        .iter()
        .filter_map(|hole| Some((*bank_of.get(hole.id.as_str())?, hole.kind)))
        .collect::<BTreeSet<_>>()
        .into_iter()
        .flat_map(|(bank, kind)| crops_of[kind].iter().map(move |&crop| (bank, crop)))
        .collect()
}

fn wanted(garden: &Garden) -> BTreeSet<&str> {
    garden
        .wants
        .iter()
        .flat_map(|w| &w.from_crops)
        .map(String::as_str)
        .collect()
}

fn too_tall(crop: &Crop, bank: &Bank, holes: &[&PlantingHole]) -> Option<Infeasibility> {
    let height = crop.size.height;
    let low: Vec<f64> = holes
        .iter()
        .filter_map(|h| h.headroom)
        .filter(|&headroom| headroom < height)
        .map(|headroom| headroom.get())
        .collect();
    Some(Infeasibility::TooTall {
        crop: crop.key.clone(),
        height: height.get(),
        bank: bank.name.clone(),
        headroom: low.iter().copied().reduce(f64::min)?,
        holes: low.len(),
        of: holes.len(),
    })
}

fn wants_without_crop(garden: &Garden, growing: &BTreeSet<(usize, &str)>) -> Vec<Infeasibility> {
    let somewhere: BTreeSet<&str> = growing.iter().map(|&(_, crop)| crop).collect();
    garden
        .wants
        .iter()
        .filter(|w| !w.from_crops.iter().any(|c| somewhere.contains(&**c)))
        .map(|w| Infeasibility::NothingFor {
            want: w.name.clone(),
        })
        .collect()
}

fn incompatible_solutions(garden: &Garden, problem: &Problem) -> Vec<Infeasibility> {
    problem
        .apart
        .iter()
        .filter_map(|(a, b)| {
            let (first, second) = (garden.crop(a)?.solution, garden.crop(b)?.solution);
            Some(Infeasibility::SolutionsDiffer {
                crops: (a.clone(), b.clone()),
                by: disjoint_ranges(&first, &second),
            })
        })
        .collect()
}

/// In what the bands of two solutions do not overlap.
fn disjoint_ranges(a: &SolutionRange, b: &SolutionRange) -> Vec<SolutionPart> {
    let ec = a.ec.0 <= b.ec.1 && b.ec.0 <= a.ec.1;
    let ph = a.ph.0 <= b.ph.1 && b.ph.0 <= a.ph.1;
    let parts = [(ec, SolutionPart::Ec), (ph, SolutionPart::Ph)];
    let differing = parts.into_iter().filter(|(overlaps, _)| !overlaps);
    differing.map(|(_, part)| part).collect()
}
