//! How long roots stay wet when the pump stands still.

/// Hours until plants have drunk what stands in their tubes: `standing` \[l\], and what they use
/// in a day \[l\], nearly all of it in so many hours of light. The clock starts in the morning, when it
/// matters most. `None` if nothing drinks.
#[must_use]
pub fn autonomy_hours(standing: f64, litres_a_day: f64, light_hours: f64) -> Option<f64> {
    if litres_a_day <= 0.0 {
        return None;
    }
    let days = (standing / litres_a_day).floor();
    // The rest of a day's water goes while there is light.
    let rest = standing - days * litres_a_day;
    Some(days * 24.0 + rest / litres_a_day * light_hours)
}
