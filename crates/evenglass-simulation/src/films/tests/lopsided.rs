//! Films that differ around the axis: their means stay, and their strong sides are where they
//! should be.

use std::f64::consts::PI;

use evenglass_disc::{BodyExchange, Grid, Resolution, Variation};
use evenglass_scenario::scenario::Harmonic;

use super::*;
use crate::geometry;
use crate::ventilation::moved::plan;
use crate::ventilation::tests::arranged::{Draft, every, fans};

/// Every set of parts that a night may follow.
fn variations() -> impl Iterator<Item = Variation> {
    (1..=4).flat_map(|lowest| [Variation::even(&[lowest]), Variation::any(&[lowest])])
}

/// A mirror on broad pads that points low, the wind on its front and still air at its back.
fn crooked() -> Scenario {
    let mut scenario = Draft { wind: 1.0, ..Draft::usual() }.scenario();
    scenario.night.altitude = Profile::constant(30_f64.to_radians());
    scenario.telescope.as_mut().unwrap().pads = 0.2;
    scenario
}

fn grid_of(scenario: &Scenario) -> Grid {
    let section = geometry::section(&scenario.mirror).unwrap();
    Grid::new(&section, &Resolution::default(), &geometry::breaks(scenario))
}

/// Films of a scenario in every sector, at the start of the night.
fn sectors_of(scenario: &Scenario, grid: &Grid, variation: Variation) -> Vec<Films> {
    let shapes = Shapes::new(scenario, grid.boundary(), variation);
    let surface = (grid.boundary(), grid.boundary_areas_m2());
    let films = |angle| {
        let mut films = Films::new(scenario, surface, Some((angle, &shapes)));
        films.enter(0.0, 1200.0);
        films
    };
    variation.angles().into_iter().map(films).collect()
}

/// Mean over all sectors of what each has at the points of a face.
fn mean_of(sectors: &[Films], name: FaceName, what: impl Fn(&FaceFilms) -> Vec<f64>) -> Vec<f64> {
    let mut mean: Vec<f64> = vec![];
    for films in sectors {
        let values = what(films.face(name).unwrap());
        mean.resize(values.len(), 0.0);
        for (mean, value) in mean.iter_mut().zip(values) {
            *mean += value / sectors.len() as f64;
        }
    }
    assert!(!mean.is_empty(), "nothing differs on {name:?}");
    mean
}

/// Whatever parts a night follows, also where wind and tilt are not among them: an order taken
/// for the mean would cool the whole mirror.
#[test]
fn pads_wind_and_tilt_leave_the_mean_film_of_every_radius() {
    let scenario = crooked();
    let grid = grid_of(&scenario);
    for variation in variations() {
        let sectors = sectors_of(&scenario, &grid, variation);
        let wind = mean_of(&sectors, FaceName::Front, |face| face.place().wind_shape.to_vec());
        let pads = mean_of(&sectors, FaceName::Back, |face| face.place().shape.to_vec());
        let rising = |way: usize| {
            mean_of(&sectors, FaceName::Back, |face| {
                face.place().rising.iter().map(|ways| ways[way]).collect()
            })
        };
        for mean in [wind, pads, rising(0), rising(1)].iter().flatten() {
            assert_abs_diff_eq!(*mean, 1.0, epsilon = 1e-13);
        }
    }
}

/// The film by which a stream takes up heat, averaged over the sectors, is the mean of the
/// film around the axis, sampled by hand at 360 angles.
#[test]
fn moved_air_keeps_its_mean_film_at_every_radius_in_every_arrangement() {
    for (name, ventilation) in every(406.0) {
        let scenario = Draft { ventilation, wind: 0.0, ..Draft::usual() }.scenario();
        let grid = grid_of(&scenario);
        for variation in variations() {
            let sectors = sectors_of(&scenario, &grid, variation);
            let round = {
                let mut films = Films::new(&scenario, surface(&grid), None);
                films.enter(0.0, 1200.0);
                films
            };
            for face in &round.faces {
                let Law::Stream { stream: even, .. } = &face.law else { continue };
                let mean = mean_of(&sectors, face.name, |face| match &face.law {
                    Law::Stream { stream, .. } => stream.carrying.clone(),
                    _ => panic!("{name}: a stream in one sector alone"),
                });
                for (mean, even) in mean.iter().zip(&even.carrying) {
                    assert_relative_eq!(*mean, *even, max_relative = 1e-12);
                }
            }
        }
    }
}

fn surface(grid: &Grid) -> (&[BoundaryPoint], &[f64]) {
    (grid.boundary(), grid.boundary_areas_m2())
}

/// The second and all later sectors take what is alike from the first: it must be what they
/// would have found themselves, also after the fans have changed their speed.
#[test]
fn a_sector_beside_another_has_the_films_it_would_find_alone() {
    for (name, ventilation) in every(406.0) {
        let draft = Draft { ventilation, speeds: [1.0, 0.3], ..Draft::usual() };
        let mut scenario = draft.scenario();
        scenario.night.altitude = Profile::new(vec![0.0, 7200.0], vec![1.2, 0.5]);
        let grid = grid_of(&scenario);
        let shapes = Shapes::new(&scenario, grid.boundary(), Variation::any(&[1]));
        let films = |angle| Films::new(&scenario, surface(&grid), Some((angle, &shapes)));
        let (mut first, mut beside, mut alone) = (films(0.3), films(2.0), films(2.0));
        let temperature: Vec<f64> =
            (0..grid.boundary().len()).map(|n| 290.0 + 2.0 * (0.7 * n as f64).sin()).collect();
        for (from, to) in [(0.0, 1200.0), (1200.0, 2880.0), (2880.0, 7200.0)] {
            first.enter(from, to);
            beside.enter_beside(&first);
            alone.enter(from, to);
            let [beside, alone] = [&beside, &alone].map(|films| {
                let mut exchange = vec![Exchange::default(); temperature.len()];
                let around = films.around(0.5, &[288.5, 287.0]);
                films.fill(0.5, around, (&temperature, &mut exchange));
                exchange
            });
            assert_eq!(beside, alone, "{name} from {from} s");
        }
    }
}

/// Wind, tilt and lopsided streams: every sector's heat is somewhere, and wall and inside air
/// get the mean of what all sectors would give them.
#[test]
fn no_sector_loses_heat_and_the_bodies_take_the_mean_of_all() {
    let one_failed = ("count = 4", "count = 4, failed = 1");
    for (name, ventilation) in every(406.0) {
        for cover in ["off", "on"] {
            let ventilation = ventilation.replace(one_failed.0, one_failed.1);
            let mut scenario = Draft { cover, ventilation, ..Draft::usual() }.scenario();
            scenario.night.altitude = Profile::constant(0.6);
            let grid = grid_of(&scenario);
            let variation = Variation::any(&[1]);
            let films = sectors_of(&scenario, &grid, variation);
            for films in &films {
                let (astray, left) = moving::astray(films, &grid);
                let size = left.abs().max(100.0);
                assert!(astray.abs() < 1e-9 * size, "{name}, {cover}: {astray} of {left} W");
            }
            let mut all = Sectors::new(&scenario, &grid, &variation);
            all.enter(0.0, 1200.0);
            let surface = moving::ripples(films.len() * grid.boundary().len());
            let bodies = [288.5, 287.0];
            let flows = |around: &dyn Fn(&Temperatures<'_>, Exchanges<'_>), surface: &[f64]| {
                let mut exchange = vec![Exchange::default(); surface.len()];
                let mut flows = [BodyExchange::default(); 2];
                let exchanges = Exchanges { surface: &mut exchange, bodies: &mut flows };
                around(&Temperatures { surface, bodies: &bodies }, exchanges);
                flows.map(|flow| flow.flow_w)
            };
            let together = flows(&|at, into| all.exchange_with_bodies(0.0, at, into), &surface);
            let mut mean = [0.0; 2];
            for (films, surface) in films.iter().zip(surface.chunks(grid.boundary().len())) {
                let own = flows(&|at, into| films.exchange_with_bodies(0.0, at, into), surface);
                for (mean, own) in mean.iter_mut().zip(own) {
                    *mean += own / 16.0;
                }
            }
            for (together, mean) in together.iter().zip(mean) {
                assert_relative_eq!(*together, mean, max_relative = 1e-12, epsilon = 1e-12);
            }
        }
    }
}

/// Flux and slope of the back where it is so much warmer than the air, near the edge at an angle.
fn at_low_pointing(films: &Films, difference: f64) -> Exchange {
    let points = films.faces.iter().map(|face| face.index.len()).sum();
    let temperature = vec![AIR + difference; points];
    let mut exchange = vec![Exchange::default(); points];
    films.exchange(0.0, &temperature, &mut exchange);
    let back = films.face(FaceName::Back).unwrap();
    let (outermost, _) =
        back.index.iter().zip(&back.position).max_by(|a, b| a.1.total_cmp(b.1)).unwrap();
    exchange[*outermost]
}

/// θ = 0 is up. Warm air rises: the layer begins at the low side of a warm mirror, and is thin
/// there; cold air falls from the high side of a cold one.
#[test]
fn a_warm_mirror_pointing_low_cools_most_below_and_a_cold_one_warms_most_above() {
    let mut scenario = still_night();
    scenario.night.altitude = Profile::constant(30_f64.to_radians());
    let grid = grid_of(&scenario);
    let shapes = Shapes::new(&scenario, grid.boundary(), variation(&scenario));
    assert_eq!(shapes.variation, Variation::even(&[1]));
    let at = |angle| {
        let mut films = Films::new(&scenario, surface(&grid), Some((angle, &shapes)));
        films.enter(0.0, 1200.0);
        films
    };
    let (above, below) = (at(0.0), at(PI));
    let heat = |films: &Films, difference: f64| at_low_pointing(films, difference).flux.abs();
    assert!(heat(&below, 5.0) > 1.2 * heat(&above, 5.0), "{}", heat(&below, 5.0));
    assert!(heat(&above, -5.0) > 1.2 * heat(&below, -5.0), "{}", heat(&above, -5.0));
    // What turns around at no difference is convection, which is none there: no jump for the
    // steps to fall over. Convection's share falls with the fourth root.
    for films in [&above, &below] {
        let slope = |difference| at_low_pointing(films, difference).slope;
        assert_relative_eq!(slope(1e-12), slope(-1e-12), max_relative = 0.06);
        let step = 1e-4;
        let flux = |difference| at_low_pointing(films, difference).flux;
        for difference in [-5.0, -0.3, 0.2, 4.0] {
            let by_difference = (flux(difference + step) - flux(difference - step)) / (2.0 * step);
            assert_relative_eq!(slope(difference), by_difference, max_relative = 1e-5);
        }
    }
}

/// A laminar layer x behind its beginning has a film as x^(−½), and begins a tenth of the radius
/// before the glass. On the diameter along the wind, half a radius from the middle, x is 0.6 on
/// one side and 1.6 on the other; orders 1 to 4 leave some of it out.
#[test]
fn wind_cools_the_side_it_comes_from() {
    let around = crate::ventilation::front::breeze(0.2).around(0.1).relative();
    assert_relative_eq!(
        around.at(0.0) / around.at(PI),
        (1.6_f64 / 0.6).sqrt(),
        max_relative = 0.02
    );
    let (first, second) = (around.orders[0], around.orders[1]);
    assert!(first.0 > 0.2 && first.0 > 2.0 * second.0.abs(), "{around:?}");
    assert!(around.orders.iter().all(|(_, sine)| sine.abs() < 1e-12), "{around:?}");
}

/// F-14 by its letter: the mean as it is, the orders in proportion.
#[test]
fn of_what_wind_does_to_one_side_walls_leave_their_share() {
    let orders = |shelter: f64| {
        let mut scenario = still_night();
        scenario.front = face(Film::Breeze { shelter });
        let grid = grid_of(&scenario);
        let shapes = Shapes::new(&scenario, grid.boundary(), variation(&scenario));
        let wind = &shapes.of(FaceName::Front).unwrap().wind;
        // Near the middle, where nothing is cut off.
        wind[wind.len() / 2]
    };
    let (open, sheltered) = (orders(1.0), orders(0.4));
    assert_relative_eq!(sheltered.mean, open.mean, max_relative = 1e-12);
    for (open, sheltered) in open.orders.iter().zip(&sheltered.orders) {
        assert_abs_diff_eq!(sheltered.0, 0.4 * open.0, epsilon = 1e-12);
    }
    assert!(open.orders[0].0 > 0.1, "{open:?}");
}

#[test]
fn no_film_vanishes_and_its_mean_stays_where_orders_alone_would_make_it() {
    let steep = crate::ventilation::field::Around {
        mean: 8.0,
        orders: [(6.0, 3.0), (4.0, 0.0), (1.0, 0.0), (0.0, 0.5)],
    };
    let least = steep.at_least(0.05);
    assert_relative_eq!(least.mean, 8.0);
    let angles = (0..360).map(|n| f64::from(n).to_radians());
    let lowest = angles.map(|angle| least.at(angle)).fold(f64::INFINITY, f64::min);
    // Sought on 32 angles.
    assert!((0.3..0.41).contains(&lowest), "{lowest}");
    assert_relative_eq!(
        least.orders[0].0 / least.orders[1].0,
        steep.orders[0].0 / steep.orders[1].0,
        max_relative = 1e-12
    );
    let gentle = least.at_least(0.01);
    assert_eq!(gentle, least);
}

fn uneven(harmonic: u8, angle: f64) -> Vec<Harmonic> {
    vec![Harmonic { harmonic, amplitude: 0.3, angle: angle.to_radians() }]
}

/// A cause that is not the same on both sides of θ = 0 needs sines.
#[test]
fn a_night_follows_the_parts_that_its_films_have() {
    let with = |change: &dyn Fn(&mut Scenario)| {
        let mut scenario = still_night();
        change(&mut scenario);
        variation(&scenario)
    };
    assert!(with(&|_| {}).is_round());
    assert!(with(&|s| s.back.uneven = vec![]).is_round());
    assert_eq!(with(&|s| s.back.uneven = uneven(1, 0.0)), Variation::even(&[1]));
    assert_eq!(with(&|s| s.rim.uneven = uneven(1, 180.0)), Variation::even(&[1]));
    assert_eq!(with(&|s| s.rim.uneven = uneven(1, 20.0)), Variation::any(&[1]));
    assert_eq!(with(&|s| s.back.uneven = uneven(2, 90.0)), Variation::even(&[2]));
    assert_eq!(with(&|s| s.back.uneven = uneven(2, 45.0)), Variation::any(&[2]));
    assert_eq!(with(&|s| s.back.uneven = uneven(3, 60.0)), Variation::even(&[3]));
    assert_eq!(with(&|s| s.back.uneven = uneven(3, 10.0)), Variation::any(&[3]));
    // Orders that are not multiples of one another make all orders.
    let two = |s: &mut Scenario| {
        s.back.uneven = uneven(2, 0.0);
        s.front.uneven = uneven(3, 0.0);
    };
    assert_eq!(with(&two), Variation::even(&[1]));
    let low = Profile::new(vec![0.0, 3600.0], vec![std::f64::consts::FRAC_PI_2, 0.5]);
    assert_eq!(with(&|s| s.night.altitude = low.clone()), Variation::even(&[1]));
    let windy = |s: &mut Scenario| s.front = face(Film::Breeze { shelter: 0.4 });
    assert_eq!(with(&windy), Variation::even(&[1]));
    let behind_walls = |s: &mut Scenario| s.front = face(Film::Breeze { shelter: 0.1 });
    assert!(with(&behind_walls).is_round());
    let rising = Profile::new(vec![0.0, 3600.0, 7200.0], vec![0.0, 0.0, 2.0]);
    let later = |s: &mut Scenario| {
        windy(s);
        s.night.wind = Some(rising.clone());
    };
    assert_eq!(with(&later), Variation::even(&[1]), "wind that rises later");
    let calm = |s: &mut Scenario| {
        windy(s);
        s.night.wind = Some(Profile::constant(0.0));
    };
    assert!(with(&calm).is_round());
}

/// The table of ventilation with the fans at rest until 40 % of the night: what they blow then
/// is followed from the start.
#[test]
fn a_night_follows_what_fans_blow_whenever_they_run() {
    let of = |ventilation: String| {
        let draft = Draft { ventilation, wind: 0.0, speeds: [0.0, 0.4], ..Draft::usual() };
        variation(&draft.scenario())
    };
    let named = |wanted: &str, change: (&str, &str)| {
        let (_, text) = every(406.0).into_iter().find(|(name, _)| *name == wanted).unwrap();
        assert!(text.contains(change.0), "{text}");
        of(text.replace(change.0, change.1))
    };
    let side = ("\"side-fans\"", "\"side-fans\", angle = \"0 deg\"");
    assert_eq!(named("side fans", side), Variation::even(&[1]));
    let turned = ("\"side-fans\"", "\"side-fans\", angle = \"25 deg\"");
    assert_eq!(named("side fans", turned), Variation::any(&[1]));
    assert_eq!(named("side fans on both sides", side), Variation::even(&[2]));
    let one_failed = ("count = 4", "count = 4, failed = 1");
    let both = named("side fans on both sides", one_failed);
    assert_eq!(both, Variation::any(&[1]));
    assert_eq!(named("fans behind, open", ("", "")), Variation::even(&[4]));
    assert_eq!(named("fans behind, closed", one_failed), Variation::even(&[1]));
    // Behind a failed one of a pair the other blows.
    let of_a_pair = ("count = 4", "count = 4, in_series = 2, failed = 1");
    assert_eq!(named("fans behind, open", of_a_pair), Variation::even(&[4]));
    assert_eq!(named("corner fans", one_failed).orders(), [1, 2, 3, 4]);
    assert_eq!(named("two systems", ("", "")).orders(), [4]);
    assert!(named("fan behind, open", ("", "")).is_round());
    assert!(named("suction", ("", "")).is_round());
}

#[test]
fn a_given_film_hides_what_fans_would_blow() {
    let (_, ventilation) = every(406.0).into_iter().find(|(name, _)| *name == "side fans").unwrap();
    let more = "[front]\nfilm = { kind = \"given\", coefficient = \"8 W/m2/K\" }\n".to_owned();
    assert!(variation(&Draft { ventilation, more, ..Draft::usual() }.scenario()).is_round());
}

/// So many fans evenly on a circle have their own order and its multiples; what so many
/// angles make of a high multiple must not be taken for an order of its own.
#[test]
fn evenly_spaced_fans_have_no_orders_but_multiples_of_their_number() {
    for count in 2..=8 {
        let text = format!(
            "{{ kind = \"fans-behind\", circle_diameter = \"240 mm\", distance = \"45 mm\", {} }}",
            fans(406.0, 0.15, count)
        );
        let draft = Draft { ventilation: text, ..Draft::usual() };
        let planned = plan(&draft.scenario()).swap_remove(0);
        let moved = planned.moved(1.0, &usual_air(AIR, 101_325.0));
        let field = moved.back.unwrap();
        for radius in [0.04, 0.09, 0.12, 0.16, 0.2] {
            let around = field.around(radius);
            for order in (1..=4).filter(|order| order % count as usize != 0) {
                let share = around.share(order);
                // From there on the night would follow it.
                assert!(share < 4e-3, "{count} fans, order {order} at {radius} m: {share}");
            }
        }
    }
}
