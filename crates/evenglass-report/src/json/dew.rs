//! Dew and frost of a night.

use evenglass_simulation::dew::{DewNight, MirrorDew, Remedies};
use serde_json::{Value, json};

pub(super) fn dew(dew: &DewNight) -> Value {
    json!({
        "primary": mirror(&dew.primary),
        "secondary": dew.secondary.as_ref().map(mirror),
        "indoors_at_the_end": {
            "room_c": dew.indoors.room_c,
            "room_humidity": dew.indoors.room_humidity,
            "margin_k": dew.indoors.margin_k,
            "wet_s": dew.indoors.wet_s,
            "film_g_m2": dew.indoors.film_g_m2,
        },
    })
}

fn mirror(mirror: &MirrorDew) -> Value {
    json!({
        "worst_margin_k": mirror.worst_margin_k,
        "worst_at_s": mirror.worst_at_s,
        "dew_from_s": mirror.dew_from_s,
        "fogged_from_s": mirror.fogged_from_s,
        "fogged_s": mirror.fogged_s,
        "film_g_m2": mirror.film_g_m2,
        "film_at_s": mirror.film_at_s,
        "frost": mirror.frost,
        "remedies": mirror.remedies.as_ref().map(remedies),
    })
}

fn remedies(remedies: &Remedies) -> Value {
    json!({
        "film_now_w_m2_k": remedies.film_now,
        "film_needed_w_m2_k": remedies.film_needed,
        "warming_k": remedies.warming_k,
        "heater_w": remedies.heater_w,
        "foil_margin_k": remedies.foil_margin_k,
    })
}
