//! Air that moves along the glass: heat conserved, warmed as it should be, walls as they are.

use evenglass_disc::{BodyExchange, Exchanges, Grid, Resolution, Temperatures};

use super::*;
use crate::geometry;
use crate::ventilation::tests::arranged::{Draft, every};

/// Films of a draft on its grid, in the first hour.
fn films_of(draft: &Draft) -> (Films, Grid) {
    let scenario = draft.scenario();
    let section = geometry::section(&scenario.mirror).unwrap();
    let grid = Grid::new(&section, &Resolution::default(), &geometry::breaks(&scenario));
    let mut films = Films::new(&scenario, (grid.boundary(), grid.boundary_areas_m2()), None);
    films.enter(0.0, 0.3 * 3600.0);
    (films, grid)
}

/// Warm rings and cold ones, by no symmetry of the grid.
pub(super) fn ripples(points: usize) -> Vec<f64> {
    (0..points).map(|n| 290.0 + 2.0 * (0.7 * n as f64).sin()).collect()
}

#[test]
fn what_leaves_the_glass_is_carried_off_given_up_or_radiated() {
    for (name, ventilation) in every(406.0) {
        for cover in ["off", "vented", "on"] {
            let draft = Draft { cover, ventilation: ventilation.clone(), ..Draft::usual() };
            let (films, grid) = films_of(&draft);
            let (astray, left) = astray(&films, &grid);
            let size = left.abs().max(100.0);
            assert!(astray.abs() < 1e-9 * size, "{name}, {cover}: {astray} of {left} W");
        }
    }
}

/// Heat that leaves rippled glass in a telescope and arrives nowhere, and all that leaves \[W\].
pub(super) fn astray(films: &Films, grid: &Grid) -> (f64, f64) {
    let temperature = ripples(grid.boundary().len());
    let mut exchange = vec![Exchange::default(); temperature.len()];
    let around = films.around(0.5, &[288.5, 287.0]);
    let (from_glass, leaving) = films.fill(0.5, around, (&temperature, &mut exchange));
    let areas = grid.boundary_areas_m2();
    let left: f64 = exchange.iter().zip(areas).map(|(e, area)| e.flux * area).sum();
    // Bare faces: radiation by the fourth powers, from the draft's own emissivities.
    let mut radiated = 0.0;
    for face in &films.faces {
        let skin = face.skin(0.5, around);
        for (&i, area) in face.index.iter().zip(&face.area) {
            let fourth = temperature[i].powi(4) - skin.radiant.powi(4);
            radiated += area * skin.emission * fourth;
        }
    }
    let routes: Vec<_> = films.moved.iter().flat_map(MovedAir::routes).collect();
    let mut carried = 0.0;
    let mut to_air = from_glass.to_air;
    for (route, leaving) in routes.iter().zip(leaving) {
        carried += leaving - route.arriving(around.night, around.air, around.wall);
        let covered = films.enclosure.as_ref().unwrap().is_covered();
        if covered && route.end == End::Above {
            to_air -= leaving;
        }
    }
    (left - radiated - carried - to_air, left)
}

/// An even face and one stream: warmed by 1 − exp(−NTU) of the way to the glass, but for the
/// halves of the outermost points, second order in the mesh.
#[test]
fn the_air_of_a_closed_cell_is_warmed_by_its_transfer_units() {
    let (_, ventilation) = every(406.0).swap_remove(1);
    let (films, grid) = films_of(&Draft { ventilation, wind: 0.0, ..Draft::usual() });
    let temperature = vec![293.15; grid.boundary().len()];
    let mut exchange = vec![Exchange::default(); temperature.len()];
    let around = films.around(0.5, &[283.15, 283.15]);
    let instant = films.instant(0.5, around);
    let back = films.face(FaceName::Back).unwrap();
    let (stream, along) = films.along(back, &instant, around).unwrap();
    let taken = stream.fill(0.0, &along, (&temperature, &mut exchange));
    let capacity = films.moved.as_ref().unwrap().routes().next().unwrap().capacity;
    let transfer: f64 =
        stream.forced.iter().zip(&back.area).map(|(f, area)| f.film * area).sum::<f64>() / capacity;
    assert!((0.02..0.5).contains(&transfer), "{transfer}");
    let wanted = capacity * 10.0 * (1.0 - (-transfer).exp());
    assert_relative_eq!(taken.carried, wanted, max_relative = 1e-3);
    // A warm back that looks down damps its film: what the stream takes up by the undamped one
    // and the glass does not give is missing in the air around.
    let missing = -taken.given_up / taken.carried;
    assert!((0.0..0.1).contains(&missing), "{missing}");
}

/// Inside air and wall where nothing more flows into them, the glass being as warm as the night.
fn settled_bodies(draft: &Draft) -> [f64; 2] {
    let (films, grid) = films_of(draft);
    let night = draft.air + 273.15;
    let surface = vec![night; grid.boundary().len()];
    let mut bodies = [night, night];
    for _ in 0..200 {
        let mut exchange = vec![Exchange::default(); surface.len()];
        let mut body = vec![BodyExchange::default(); 2];
        let exchanges = Exchanges { surface: &mut exchange, bodies: &mut body };
        films.exchange_with_bodies(
            0.0,
            &Temperatures { surface: &surface, bodies: &bodies },
            exchanges,
        );
        for (kelvin, flow) in bodies.iter_mut().zip(&body) {
            *kelvin -= 0.7 * flow.flow_w / flow.slope_w_per_k;
        }
    }
    bodies
}

/// Upright wood: half of its view is a sky of −7 °C at 10 °C, 4.9 W/m2/K · ½ · 17 K = 40 W/m2
/// against some 2.6 outside, 2.3 to a board that looks at the ground and 4.9 of radiation: 2 to 4 K.
#[test]
fn a_dry_calm_night_cools_the_wall_some_kelvins_below_the_air_and_wind_does_not() {
    let calm = Draft { wind: 0.0, ventilation: String::new(), ..Draft::usual() };
    let [wall, inside] = settled_bodies(&calm);
    let below = calm.air + 273.15 - wall;
    assert!((1.0..4.0).contains(&below), "{below} K");
    assert!(inside <= calm.air + 273.15 && inside > wall, "{inside}");
    let [windy, _] = settled_bodies(&Draft { wind: 6.0, ..calm.clone() });
    assert!(calm.air + 273.15 - windy < 0.6 * below, "{windy}");
}

/// What the front sends through the mouth to the sky does not warm the wall: its share of the
/// wall's heat is that of the wall in its view.
#[test]
fn the_front_gives_the_wall_no_more_than_it_sees_of_it() {
    let front = "[front]\nradiation = { emissivity = 0.84 }\n".to_owned();
    let radiated = |cover: &'static str| {
        let draft = Draft { cover, wind: 0.0, more: front.clone(), ..Draft::usual() };
        let (films, grid) = films_of(&draft);
        // Everything as warm as the night: nothing goes to the wall, the sky gets its heat.
        let temperature = vec![283.15; grid.boundary().len()];
        let mut exchange = vec![Exchange::default(); temperature.len()];
        let around = films.around(0.0, &[283.15, 283.15]);
        let (from_glass, _) = films.fill(0.0, around, (&temperature, &mut exchange));
        let on_front = grid.boundary().iter().position(|p| p.face == FaceName::Front).unwrap();
        (from_glass.radiated, exchange[on_front].flux)
    };
    let (to_wall, to_sky) = radiated("off");
    assert_abs_diff_eq!(to_wall, 0.0, epsilon = 1e-9);
    assert!(to_sky > 10.0, "{to_sky} W/m2");
    assert_abs_diff_eq!(radiated("on").1, 0.0, epsilon = 1e-9);
}

/// As the published form: 3 against 5 is 4.6104, here in the film's own units, and never
/// less than three quarters of the larger.
#[test]
fn a_stream_down_a_warm_rim_is_opposed_and_down_a_cold_one_helped() {
    use evenglass_convection::mixed::{assisting, opposing};
    let (films, _) = films_of(&Draft::usual());
    let free = films.tables.free(Outlook::Rim, &films.air.at(0.5));
    for difference in [5.0, -5.0] {
        let natural = free.at(&free.scaled(difference)).film;
        for times in [0.2, 0.6, 1.0, 5.0 / 3.0, 4.0] {
            let forced = forced::Forced { film: times * natural, sluggishness: 0.0 };
            let film = forced::opposed(forced, &free, difference).film;
            let wanted = if difference > 0.0 {
                opposing(times * natural, natural)
            } else {
                assisting(times * natural, natural)
            };
            assert_relative_eq!(film, wanted, max_relative = 1e-9);
        }
    }
}
