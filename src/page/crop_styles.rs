//! How each crop looks in the pictures: letters, tint and hatching, so that any one of the three
//! tells it.

use std::collections::BTreeMap;

use crate::garden::Garden;
use crate::messages::words::crop_name;
use crate::plan::Plan;
use crate::summary::codes::crop_codes;

/// Tints in `page.css`.
const TINTS: usize = 10;
/// Hatchings in `defs.html`; with no divisor in common with [`TINTS`], so that crops alike in one
/// differ in the other.
const HATCHES: usize = 7;

/// One crop's look.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct CropStyle {
    /// What people call the crop.
    pub(super) name: String,
    /// Its letters.
    pub(crate) code: String,
    /// Its tint, from 0.
    pub(super) tint: usize,
    /// Its hatching, from 0.
    pub(super) hatch: usize,
}

/// The looks of all crops that garden or plan name, by key.
#[derive(Debug, Clone)]
pub(super) struct CropStyles {
    by_key: BTreeMap<String, (usize, CropStyle)>,
}

impl CropStyles {
    pub(crate) fn new(plan: &Plan, garden: &Garden) -> Self {
        let mut keys: Vec<&str> = garden.crops.iter().map(|c| c.key.as_str()).collect();
        // A crop that the garden no longer names may still stand in an older plan.
        keys.extend(plan.stays.iter().map(|s| s.crop.as_str()));
        keys.sort_unstable();
        keys.dedup();
        let by_key = crop_codes(keys)
            .into_iter()
            .enumerate()
            .map(|(at, (key, code))| {
                let look = CropStyle {
                    name: crop_name(garden, key).to_owned(),
                    code,
                    tint: at % TINTS,
                    hatch: at % HATCHES,
                };
                (key.to_owned(), (at, look))
            })
            .collect();
        Self { by_key }
    }

    /// The crop's number among all, and its look.
    pub(super) fn of(&self, key: &str) -> &(usize, CropStyle) {
        &self.by_key[key]
    }

    /// Keys and looks, in the order of their numbers.
    pub(super) fn all(&self) -> impl Iterator<Item = (&str, &CropStyle)> {
        self.by_key
            .iter()
            .map(|(key, (_, look))| (key.as_str(), look))
    }
}
