//! How large the rig is drawn on a sheet of paper.

use std::fmt::Write as _;

use crate::page::rig::BankPicture;

/// What both A4 and Letter leave between margins of 10 mm, in millimetres.
const PRINT_WIDTH_MM: f64 = 186.0;
/// The most that the map takes of a sheet's height [mm].
const PRINT_HEIGHT_MM: f64 = 60.0;
/// Around each bank: beside it, and for the lines above and below it [mm].
const BANK_MARGIN_MM: (f64, f64) = (4.0, 9.0);
/// Scales tried, from the largest, in thousandths: at the least, letters are 1.5 mm high.
const SCALES_TRIED: (u32, u32) = (100, 20);
/// Height of letters and numbers on paper [mm].
const LETTER_MM: (f64, f64) = (2.7, 2.1);
/// Letters are never larger than this on the rig itself [mm], as holes are near each other.
const MAX_LETTER_RIG_MM: f64 = 78.0;

/// The scale of a map on paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct PaperScale(f64);

impl PaperScale {
    /// The largest at which all banks, set in rows, have room; none if letters on them could not
    /// be read then.
    pub(super) fn fitting(banks: &[BankPicture]) -> Option<Self> {
        let scales = (SCALES_TRIED.1..=SCALES_TRIED.0)
            .rev()
            .map(|s| f64::from(s) / 1000.0);
        let mut fits =
            scales.filter(|scale| height(banks, *scale).is_some_and(|h| h <= PRINT_HEIGHT_MM));
        fits.next().map(Self)
    }

    /// The style that sets the banks to this scale.
    pub(super) fn style(self, banks: &[BankPicture]) -> String {
        let mut style = String::new();
        for (at, bank) in banks.iter().enumerate() {
            let (wide, _) = size(bank, self.0);
            writeln!(style, ".bank-{at}{{width:{wide:.1}mm}}").expect("memory takes it");
        }
        let [code, number] =
            [LETTER_MM.0, LETTER_MM.1].map(|h| (h / self.0).min(MAX_LETTER_RIG_MM));
        writeln!(
            style,
            ".sheet .rig .code{{font-size:{code:.0}px}}.sheet .rig .number,.sheet .rig .name,.sheet .rig .head{{font-size:{number:.0}px}}"
        )
        .expect("memory takes it");
        style
    }
}

/// Width and height of a bank on paper [mm].
#[allow(clippy::cast_precision_loss)]
fn size(bank: &BankPicture, scale: f64) -> (f64, f64) {
    (bank.width as f64 * scale, bank.height as f64 * scale)
}

/// Height of the banks set in rows; nothing if one is wider than the paper.
fn height(banks: &[BankPicture], scale: f64) -> Option<f64> {
    let (mut sum, mut across, mut high) = (0.0, 0.0, 0.0_f64);
    for bank in banks {
        let (wide, tall) = size(bank, scale);
        if wide > PRINT_WIDTH_MM {
            return None;
        }
        if across + wide > PRINT_WIDTH_MM {
            sum += high;
            (across, high) = (0.0, 0.0);
        }
        across += wide + BANK_MARGIN_MM.0;
        high = high.max(tall + BANK_MARGIN_MM.1);
    }
    Some(sum + high)
}
