//! `crops`: the crop cards.

use std::path::{Path, PathBuf};

use clap::Args;
use serde::Serialize;

use crate::cli::error::CommandError;
use crate::cli::{context, output};
use crate::garden::Garden;
use crate::garden::cards::Cards;
use crate::garden::crop::Crop;
use crate::garden::file::{FILE_NAME, LoadedGarden};
use crate::summary::card::{CardFact, card_summary, facts};
use crate::summary::season::{self, CropYear};
use crate::terminal;
use crate::units::Units;

/// List the crop cards, or show one with its year in your garden
#[derive(Debug, Args)]
pub struct CropsArgs {
    /// Show this card
    crop: Option<String>,
    /// Garden file, or the folder that holds it [default: the current folder, if it has one]
    #[arg(long, value_name = "PATH")]
    garden: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct CropsJson<'a> {
    key: &'a str,
    called: &'a str,
    botanical: &'a str,
    facts: Vec<CardFact>,
    summer: &'a str,
    winter: &'a str,
    years: Vec<CropYear>,
}

impl CropsArgs {
    pub fn run(self) -> Result<(), CommandError> {
        let garden = self.garden()?;
        let cards = cards(garden.as_ref())?;
        let units = garden
            .as_ref()
            .map_or_else(Units::default, |l| l.garden.units);
        match &self.crop {
            None if self.json => {
                let list: Vec<_> = cards.iter().map(|card| card_summary(card, units)).collect();
                output::json(&list)
            }
            None => {
                let cards: Vec<Crop> = cards.iter().cloned().collect();
                output::view(&terminal::crops::render_crops(&cards, units))
            }
            Some(key) => {
                let card = cards.get(key).ok_or_else(|| unknown_crop(key, &cards))?;
                self.show_card(card, garden.as_ref().map(|l| &l.garden), units)
            }
        }
    }
}

impl CropsArgs {
    /// The garden asked for, or the one in the current folder if there is one and it is right:
    /// who looks for the name of a crop may well have a garden file that is not.
    fn garden(&self) -> Result<Option<LoadedGarden>, CommandError> {
        if let Some(path) = &self.garden {
            return context::read_garden(Some(path)).map(Some);
        }
        if !Path::new(FILE_NAME).exists() {
            return Ok(None);
        }
        let loaded = context::read_garden(None).ok();
        if loaded.is_none() {
            output::note(
                "garden.yaml is not right yet, so it is left out here; `steadyleaf check` tells why.",
            );
        }
        Ok(loaded)
    }

    fn show_card(
        &self,
        card: &Crop,
        garden: Option<&Garden>,
        units: Units,
    ) -> Result<(), CommandError> {
        let years = garden.map_or_else(Vec::new, |garden| season::crop_years(garden, card));
        if self.json {
            return output::json(&CropsJson {
                key: &card.key,
                called: &card.name,
                botanical: &card.botanical,
                facts: facts(card, units),
                summer: &card.summer,
                winter: &card.winter,
                years,
            });
        }
        output::view(&terminal::crops::render_card(card, units, &years))?;
        if garden.is_none() {
            output::note(
                "with --garden PATH it also tells when this crop can stand in your garden.",
            );
        }
        Ok(())
    }
}

/// The built-in cards, and those in the folder beside the garden file.
fn cards(garden: Option<&LoadedGarden>) -> Result<Cards, CommandError> {
    let cards = Cards::built_in();
    match garden {
        Some(loaded) => Ok(cards.with_folder(&loaded.path.with_file_name("crops"))?),
        None => Ok(cards),
    }
}

fn unknown_crop(key: &str, cards: &Cards) -> CommandError {
    let near = cards.suggest_key(key);
    CommandError::NoCrop {
        key: key.to_owned(),
        hint: near.map_or_else(String::new, |near| format!("; did you mean `{near}`?")),
    }
}
