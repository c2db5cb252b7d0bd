//! The derivatives of films, streams and walls are those of the exchange itself.

use std::path::Path;

use evenglass_disc::{
    BodyExchange, Exchange, ExchangeState, Exchanges, Grid, Resolution, Surroundings, Temperatures,
};

use super::super::Films;
use crate::geometry;

/// A mirror in a plywood box; what moves the air, and the faces, follow.
const MIRROR: &str = r#"
[mirror]
diameter = "406 mm"
edge_thickness = "41 mm"
focal_ratio = 4.5
glass = "soda-lime"
[night]
start = "20:00"
duration = "8 h"
glass_temperature = "20 degC"
air = { kind = "falling", from = "15 degC", rate = "-1 K/h" }
wind = "1 m/s"
[telescope]
form = "truss"
clearance = "15 mm"
length = "150 mm"
behind = "100 mm"
"#;

const FANS: &str = r#"fans = { diameter = "120 mm", free_flow = "30 L/s", max_pressure = "40 Pa", power = "3 W" }"#;

fn written() -> Vec<(&'static str, String)> {
    let ring = format!(
        "[ventilation]\nkind = \"ring-nozzle\"\nslot = \"5 mm\"\nlip = \"15 mm\"\nheight = \"2 mm\"\n\
         path = {{ kind = \"past-back\", gap = \"25 mm\" }}\n{FANS}\n"
    );
    let suction = format!("[ventilation]\nkind = \"suction\"\ngap = \"30 mm\"\n{FANS}\n");
    let layer = "[rim]\ninsulation = { thickness = \"6 mm\", conductivity = \"0.035 W/m/K\" }\n";
    let sealed = "[ventilation]\nkind = \"sealed\"\n";
    vec![
        ("ring", ring.clone()),
        ("ring, rim insulated", format!("{ring}{layer}")),
        ("suction", suction),
        ("sealed", sealed.to_owned()),
        ("no fans", String::new()),
    ]
}

/// Flux at every point and flow into every body, at temperatures moved by `nudge` times
/// a direction.
fn flows(films: &Films, base: (&[f64], &[f64]), along: (&[f64], &[f64]), nudge: f64) -> Vec<f64> {
    let moved = |base: &[f64], along: &[f64]| -> Vec<f64> {
        base.iter().zip(along).map(|(b, a)| b + nudge * a).collect()
    };
    let (surface, bodies) = (moved(base.0, along.0), moved(base.1, along.1));
    let (exchange, body) = exchange(films, &surface, &bodies);
    exchange.iter().map(|e| e.flux).chain(body.iter().map(|b| b.flow_w)).collect()
}

fn exchange(films: &Films, surface: &[f64], bodies: &[f64]) -> (Vec<Exchange>, Vec<BodyExchange>) {
    let mut exchange = vec![Exchange::default(); surface.len()];
    let mut body = vec![BodyExchange::default(); bodies.len()];
    let exchanges = Exchanges { surface: &mut exchange, bodies: &mut body };
    films.exchange_with_bodies(1800.0, &Temperatures { surface, bodies }, exchanges);
    (exchange, body)
}

#[test]
fn what_follows_a_change_is_the_difference_it_makes() {
    for (name, text) in written() {
        for cover in ["off", "vented", "on"] {
            let night = MIRROR.replace("wind =", &format!("cover = \"{cover}\"\nwind ="));
            let scenario =
                evenglass_scenario::parse("test", &format!("{night}{text}"), Path::new("."), &[]);
            let scenario = scenario.unwrap_or_else(|error| panic!("{name}: {error:?}"));
            let section = geometry::section(&scenario.mirror).unwrap();
            let grid = Grid::new(&section, &Resolution::default(), &geometry::breaks(&scenario));
            let mut films =
                Films::new(&scenario, (grid.boundary(), grid.boundary_areas_m2()), None);
            films.enter(0.0, 3600.0);
            let points = grid.boundary().len();
            let surface: Vec<f64> = (0..points).map(|n| 291.0 + 0.7 * (n as f64).sin()).collect();
            let bodies = [289.5, 288.6];
            let toward: Vec<f64> = (0..points).map(|n| (1.7 * n as f64).cos()).collect();
            let bodies_toward = [0.8, -0.6];
            let (at, slopes) = exchange(&films, &surface, &bodies);
            let mut flux = vec![Exchange::default(); points];
            let mut into = vec![BodyExchange::default(); 2];
            let state = ExchangeState {
                temperatures: Temperatures { surface: &surface, bodies: &bodies },
                surface: &at,
                bodies: &slopes,
            };
            let change = Temperatures { surface: &toward, bodies: &bodies_toward };
            let known = films.follow(
                1800.0,
                &state,
                &change,
                Exchanges { surface: &mut flux, bodies: &mut into },
            );
            assert!(known);
            let nudge = 1e-4;
            let way = ((&toward[..]), (&bodies_toward[..]));
            let ahead = flows(&films, (&surface, &bodies), way, nudge);
            let behind = flows(&films, (&surface, &bodies), way, -nudge);
            let own = flux.iter().zip(&at).zip(&toward).map(|((f, e), d)| f.flux + e.slope * d);
            let into = into.iter().zip(&slopes).zip(&bodies_toward);
            let into = into.map(|((f, e), d)| f.flow_w + e.slope_w_per_k * d);
            for (n, known) in own.chain(into).enumerate() {
                let found = (ahead[n] - behind[n]) / (2.0 * nudge);
                let allowed = 2e-4 * known.abs() + 2e-4;
                assert!((found - known).abs() < allowed, "{name}, {cover}, {n}: {known}, {found}");
            }
        }
    }
}
