use approx::{assert_abs_diff_eq, assert_relative_eq};
use evenglass_convection::free::{self, Stability};
use evenglass_materials::glass;
use evenglass_materials::moist_air::{AirProperties, properties, vapour_pressure};
use evenglass_scenario::Clock;
use evenglass_scenario::scenario::{
    Cell, Cover, FanBehind, Good, Insulation, Mirror, Output, RadiantSurroundings, Radiation,
};
use evenglass_units::{
    Conductivity, Duration, Length, Pressure, Temperature, TemperatureDifference, VolumeRate,
};

use super::natural::Outlook;
use super::*;

mod following;
mod limits;
mod lopsided;
mod moving;

#[path = "../../../../tests/references/check_table.rs"]
mod check_table;

const AIR: f64 = 283.15;

fn face(film: Film) -> Face {
    Face { film, radiation: None, insulation: None, uneven: Vec::new(), film_factor: 1.0 }
}

fn given(coefficient: Profile) -> Film {
    let air_offset = TemperatureDifference::from_kelvins(0.0);
    Film::Given { coefficient, factor: Profile::constant(1.0), air_offset }
}

fn fan(cell: Cell) -> Film {
    Film::FanBehind(FanBehind {
        fan_diameter: Length::from_metres(0.120),
        hub_diameter: Length::from_metres(0.040),
        distance: Length::from_metres(0.060),
        flow: VolumeRate::from_m3_per_s(0.020),
        cell,
    })
}

fn closed() -> Cell {
    Cell::Closed { gap: Length::from_metres(0.040) }
}

/// A 406 mm mirror in steady air at 10 °C, every face in still air, no radiation.
fn still_night() -> Scenario {
    Scenario {
        title: "test".to_owned(),
        mirror: Mirror {
            diameter: Length::from_metres(0.406),
            edge_thickness: Length::from_metres(0.041),
            focal_ratio: Some(4.5),
            hole_diameter: None,
            glass: glass::named("soda-lime").unwrap(),
        },
        night: Conditions {
            start: Clock::undated(<_>::default()),
            duration: Duration::from_hours(8.0),
            glass_temperature: Temperature::from_celsius(20.0),
            stress_free_temperature: Temperature::from_celsius(20.0),
            air: Profile::constant(AIR),
            dew_point: None,
            wind: Some(Profile::constant(1.0)),
            cloud: None,
            pressure: Profile::constant(101_325.0),
            fan_speed: Profile::constant(1.0),
            altitude: Profile::constant(std::f64::consts::FRAC_PI_2),
            secondary_heater: Profile::constant(1.0),
            cover: vec![(0.0, Cover::Off)],
        },
        front: face(Film::Still),
        back: face(Film::Still),
        rim: face(Film::Still),
        hole: None,
        ventilation: None,
        telescope: None,
        good: Good {
            figure_rms: Length::from_metres(20e-9),
            shimmer_arcsec: 0.5,
            dew_margin: TemperatureDifference::from_kelvins(0.5),
            front_minus_air: None,
            held_for: Duration::from_hours(0.5),
        },
        site: None,
        output: Output { interval: Duration::from_seconds(300.0), fields_at: Vec::new() },
        unused: Vec::new(),
    }
}

/// Three points on the front, four on the back, one on the rim.
fn points() -> Vec<BoundaryPoint> {
    let at = |face, radius_m, height_m| BoundaryPoint { face, radius_m, height_m };
    vec![
        at(FaceName::Back, 0.0, 0.0),
        at(FaceName::Front, 0.0, 0.035),
        at(FaceName::Back, 0.05, 0.0),
        at(FaceName::Front, 0.1, 0.037),
        at(FaceName::Back, 0.09, 0.0),
        at(FaceName::Rim, 0.203, 0.02),
        at(FaceName::Front, 0.2, 0.041),
        at(FaceName::Back, 0.2, 0.0),
    ]
}

/// Exchange of every point of the test disc at one surface temperature.
fn exchange_at(films: &Films, time: f64, surface: f64) -> Vec<Exchange> {
    let mut exchange = vec![Exchange::default(); points().len()];
    films.exchange(time, &vec![surface; points().len()], &mut exchange);
    exchange
}

fn entered(scenario: &Scenario) -> Films {
    let mut films = Films::new(scenario, (&points(), &[0.01; 8]), None);
    films.enter(0.0, scenario.night.duration.seconds());
    films
}

/// Every kind of film, with and without what can lie around it.
fn every_kind() -> Vec<(&'static str, Scenario)> {
    let mut list = Vec::new();
    let mut add = |name, change: fn(&mut Scenario)| {
        let mut scenario = still_night();
        change(&mut scenario);
        list.push((name, scenario));
    };
    add("still", |_| {});
    add("given", |s| s.front = face(given(Profile::new(vec![0.0, 0.2], vec![25.0, 4.0]))));
    add("breeze", |s| s.front = face(Film::Breeze { shelter: 0.4 }));
    add("open fan", |s| s.back = face(fan(Cell::Open)));
    add("closed fan", |s| s.back = face(fan(closed())));
    add("slow fan", |s| {
        s.back = face(fan(closed()));
        s.night.fan_speed = Profile::constant(0.05);
    });
    add("tilted", |s| {
        s.front = face(Film::Breeze { shelter: 0.1 });
        s.night.altitude = Profile::constant(0.6);
    });
    add("falling air", |s| {
        s.front = face(Film::Breeze { shelter: 0.4 });
        s.back = face(fan(Cell::Open));
        s.night.air = Profile::new(vec![0.0, 28_800.0], vec![291.0, 279.0]);
        s.night.wind = Some(Profile::new(vec![0.0, 28_800.0], vec![0.0, 3.0]));
    });
    add("radiating", |s| {
        let surroundings = RadiantSurroundings::Temperature(Profile::constant(270.0));
        s.front.radiation = Some(Radiation { emissivity: 0.84, surroundings });
    });
    add("insulated", |s| {
        let surroundings = RadiantSurroundings::Air;
        for face in [&mut s.rim, &mut s.back, &mut s.front] {
            face.radiation =
                Some(Radiation { emissivity: 0.84, surroundings: surroundings.clone() });
            face.insulation = Some(Insulation {
                thickness: Length::from_metres(0.006),
                conductivity: Conductivity::from_w_per_m_k(0.035),
            });
        }
        s.back.film = fan(Cell::Open);
    });
    list
}

#[test]
fn the_slope_is_the_derivative_of_the_flux_for_every_kind_of_film() {
    for (name, scenario) in every_kind() {
        let films = entered(&scenario);
        for time in [0.0, 10_000.0, 28_800.0] {
            for difference in [-50.0, -12.0, -1.3, -0.02, 0.004, 0.5, 3.0, 15.0, 45.0] {
                let surface = AIR + difference;
                let step = 1e-6;
                let below = exchange_at(&films, time, surface - step);
                let here = exchange_at(&films, time, surface);
                let above = exchange_at(&films, time, surface + step);
                for point in 0..here.len() {
                    let numeric = (above[point].flux - below[point].flux) / (2.0 * step);
                    // The difference quotient itself is good to about 1e-6 at 4 mK.
                    let wrong = (numeric - here[point].slope).abs();
                    let allowed = 2e-5 * here[point].slope.abs() + 1e-6;
                    assert!(
                        wrong <= allowed,
                        "{name}, {difference} K, point {point}: {numeric}, {here:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn heat_leaves_warm_glass_and_enters_cold_glass() {
    for (name, mut scenario) in every_kind() {
        scenario.night.air = Profile::constant(AIR);
        if name == "radiating" {
            continue;
        }
        let films = entered(&scenario);
        let warm = exchange_at(&films, 100.0, AIR + 2.0);
        let cold = exchange_at(&films, 100.0, AIR - 2.0);
        let equal = exchange_at(&films, 100.0, AIR);
        for point in 0..warm.len() {
            assert!(warm[point].flux > 0.0 && cold[point].flux < 0.0, "{name}, point {point}");
            assert_abs_diff_eq!(equal[point].flux, 0.0, epsilon = 1e-9);
            assert!(warm[point].slope > 0.0 && cold[point].slope > 0.0, "{name}, point {point}");
        }
    }
}

#[test]
fn flux_and_slope_pass_through_equal_temperatures_without_a_step() {
    for (name, mut scenario) in every_kind() {
        scenario.night.air = Profile::constant(AIR);
        let films = entered(&scenario);
        let below = exchange_at(&films, 100.0, AIR - 1e-12);
        let above = exchange_at(&films, 100.0, AIR + 1e-12);
        for point in 0..below.len() {
            let gap = (above[point].flux - below[point].flux).abs();
            assert!(gap < 1e-9, "{name}, point {point}: {gap}");
            // Slopes leave their common value with the fourth root of the difference, a
            // thousandth at 1e-12 K.
            assert_relative_eq!(above[point].slope, below[point].slope, max_relative = 3e-2);
        }
    }
}

#[test]
fn stable_and_unstable_films_start_from_the_same_conduction() {
    let films = entered(&still_night());
    for outlook in [Outlook::Front, Outlook::Back, Outlook::Rim] {
        let free = films.tables.free(outlook, &films.air.at(0.5));
        let film = |difference| free.at(&free.scaled(difference)).film;
        let (from_above, from_below) = (film(0.0), film(-f64::MIN_POSITIVE));
        assert_relative_eq!(from_above, from_below, max_relative = 1e-9);
        if outlook != Outlook::Rim {
            assert_relative_eq!(
                free.along(&free.scaled(0.0)).film,
                from_above,
                max_relative = 1e-9
            );
        }
    }
}

#[test]
fn a_fan_at_rest_is_still_air_and_a_slow_one_comes_close() {
    let still = entered(&still_night());
    for cell in [Cell::Open, closed()] {
        let with_speed = |speed| {
            let mut scenario = still_night();
            scenario.back = face(fan(cell));
            scenario.night.fan_speed = Profile::constant(speed);
            entered(&scenario)
        };
        for surface in [AIR - 3.0, AIR + 3.0] {
            let calm = exchange_at(&still, 0.0, surface);
            assert_eq!(exchange_at(&with_speed(0.0), 0.0, surface), calm);
            let slow = exchange_at(&with_speed(1e-9), 0.0, surface);
            for (slow, calm) in slow.iter().zip(&calm) {
                assert_relative_eq!(slow.flux, calm.flux, max_relative = 1e-5);
            }
        }
    }
}

#[test]
fn no_insulation_and_none_worth_the_name_are_the_same() {
    let bare = entered(&still_night());
    let with_thickness = |thickness: f64| {
        let mut scenario = still_night();
        for face in [&mut scenario.front, &mut scenario.back, &mut scenario.rim] {
            face.insulation = Some(Insulation {
                thickness: Length::from_metres(thickness),
                conductivity: Conductivity::from_w_per_m_k(0.035),
            });
        }
        entered(&scenario)
    };
    let wanted = exchange_at(&bare, 0.0, AIR + 5.0);
    assert_eq!(exchange_at(&with_thickness(0.0), 0.0, AIR + 5.0), wanted);
    for (thin, bare) in exchange_at(&with_thickness(1e-9), 0.0, AIR + 5.0).iter().zip(&wanted) {
        assert_relative_eq!(thin.flux, bare.flux, max_relative = 1e-6);
    }
    for thick in exchange_at(&with_thickness(1e6), 0.0, AIR + 5.0) {
        // 5 K across a million metres of foam.
        assert_relative_eq!(thick.flux, 5.0 * 0.035e-6, max_relative = 1e-6);
        assert_relative_eq!(thick.slope, 0.035e-6, max_relative = 1e-6);
    }
}

#[test]
fn radiation_is_the_difference_of_fourth_powers_and_four_sigma_t_cubed_near_balance() {
    let mut scenario = still_night();
    scenario.front = face(given(Profile::constant(0.0)));
    let surroundings = RadiantSurroundings::Temperature(Profile::constant(270.0));
    scenario.front.radiation = Some(Radiation { emissivity: 0.84, surroundings });
    let films = entered(&scenario);
    // 0.84 · 5.670374 × 10⁻⁸ · (290⁴ − 270⁴) and 4 · 0.84 · σ · 290³, by hand.
    let front = exchange_at(&films, 0.0, 290.0)[1];
    assert_relative_eq!(front.flux, 83.750, max_relative = 1e-4);
    assert_relative_eq!(front.slope, 4.646_7, max_relative = 1e-4);
    let near = exchange_at(&films, 0.0, 270.01)[1];
    let linear = 4.0 * 0.84 * STEFAN_BOLTZMANN * 270.0_f64.powi(3) * 0.01;
    assert_relative_eq!(near.flux, linear, max_relative = 1e-4);
}

fn air_at(kelvin: f64) -> AirProperties {
    let (temperature, pressure) =
        (Temperature::from_kelvin(kelvin), Pressure::from_pascals(101_325.0));
    properties(temperature, pressure, vapour_pressure(temperature, 0.6, pressure))
}

fn disc_film(diameter: f64, difference: f64, buoyant: f64, air: &AirProperties, tilt: f64) -> f64 {
    let length = 0.25 * diameter;
    let rayleigh = 9.806_65 / buoyant * difference.abs() * length.powi(3)
        / (air.kinematic_viscosity() * air.thermal_diffusivity());
    let stability = if difference > 0.0 { Stability::Unstable } else { Stability::Stable };
    let nusselt = free::inclined_disc(rayleigh, air.prandtl(), tilt, stability).value;
    nusselt * air.conductivity / length
}

/// Film coefficients of whole discs, evaluated independently from the published
/// formulas with the same air.
#[test]
fn a_disc_at_any_tilt_has_the_composite_film_of_the_table() {
    let compared = check_table::compare(|row| {
        (row.quantity == "h_nat_disc").then(|| {
            let (temperature, difference) = (row.input("T"), row.input("dT") * row.input("face"));
            let tilt = row.input("tilt").to_radians();
            disc_film(row.input("D"), difference, temperature, &air_at(temperature), tilt)
        })
    });
    assert_eq!(compared, 8);
}

/// The tables, the short polynomials of the air's properties and the fixed Prandtl
/// number together against the correlation itself at the film temperature.
#[test]
fn tabulated_free_convection_is_the_correlation() {
    for altitude in [1.57, 1.0, 0.6] {
        let mut scenario = still_night();
        scenario.night.altitude = Profile::constant(altitude);
        let films = entered(&scenario);
        for difference in [-30.0, -10.0, -1.0, -0.1, -0.01, 0.01, 0.1, 1.0, 10.0, 30.0] {
            let front = exchange_at(&films, 0.0, AIR + difference)[1];
            let mut air = air_at(AIR + 0.5 * difference);
            // The vapour is that of the night air, not of the film.
            let (film, night) =
                (Temperature::from_kelvin(air.temperature), Temperature::from_kelvin(AIR));
            let pressure = Pressure::from_pascals(101_325.0);
            air = properties(film, pressure, vapour_pressure(night, 0.6, pressure));
            let tilt = std::f64::consts::FRAC_PI_2 - altitude;
            let wanted = disc_film(0.406, difference, AIR, &air, tilt);
            assert_relative_eq!(front.flux / difference, wanted, max_relative = 5e-4);
        }
    }
}

#[test]
fn a_cold_front_clings_to_its_air_and_a_warm_back_does_too() {
    let films = entered(&still_night());
    let warm = exchange_at(&films, 0.0, AIR + 3.0);
    let cold = exchange_at(&films, 0.0, AIR - 3.0);
    // Point 1 is on the front, point 0 on the back.
    assert!(cold[1].flux.abs() < 0.6 * warm[1].flux);
    assert!(warm[0].flux < 0.6 * cold[0].flux.abs());
    // The rim is upright and knows no difference but that of the air's properties.
    assert_relative_eq!(warm[5].flux, -cold[5].flux, max_relative = 2e-2);
}

#[test]
fn a_mirror_looking_down_swaps_its_faces() {
    let mut scenario = still_night();
    scenario.night.altitude = Profile::constant(-std::f64::consts::FRAC_PI_2);
    let down = exchange_at(&entered(&scenario), 0.0, AIR + 3.0);
    let up = exchange_at(&entered(&still_night()), 0.0, AIR + 3.0);
    assert_relative_eq!(down[1].flux, up[0].flux, max_relative = 1e-9);
    assert_relative_eq!(down[0].flux, up[1].flux, max_relative = 1e-9);
}

/// Sag between hole and rim by hand: (0.406² − 0.06²)/(8 · 3.654 m) = 5.5 mm of 41 mm.
#[test]
fn a_fans_film_is_kept_between_stretches_and_renewed_when_the_fan_steps() {
    let mut scenario = still_night();
    scenario.back = face(fan(Cell::Open));
    scenario.night.air = Profile::new(vec![0.0, 7_200.0], vec![290.0, 280.0]);
    scenario.night.fan_speed = Profile::new(vec![0.0, 3_600.0, 3_600.0], vec![1.0, 1.0, 0.3]);
    let mut films = Films::new(&scenario, (&points(), &[0.01; 8]), None);
    films.enter(0.0, 3_600.0);
    let before = exchange_at(&films, 3_600.0, 275.0);
    films.enter(3_600.0, 7_200.0);
    let after = exchange_at(&films, 3_600.0, 275.0);
    // Point 0 is the middle of the back, point 7 near its rim, point 1 on the front.
    assert!(after[0].flux.abs() < 0.6 * before[0].flux.abs());
    assert_relative_eq!(after[1].flux, before[1].flux, max_relative = 1e-6);
    // The film in the air of the moment, straight between the coldest and the warmest.
    let air = air_at(285.0);
    let Film::FanBehind(build) = &scenario.back.film else { panic!("the back has a fan") };
    let forced = forced::Fan::new(build, 0.3, &air).at(0.2).film;
    let slope = exchange_at(&films, 3_600.0, 285.0 - 1e-6)[7].slope;
    let conduction = 2.0 / std::f64::consts::PI * air.conductivity / 0.1015;
    let wanted = (forced.powi(3) + conduction.powi(3)).cbrt();
    // Free convection at a microkelvin is not quite conduction alone.
    assert_relative_eq!(slope, wanted, max_relative = 1e-2);
}

#[test]
fn the_wall_of_a_hole_is_an_upright_plate_of_its_own_height() {
    let mut scenario = still_night();
    scenario.mirror.hole_diameter = Some(Length::from_metres(0.060));
    scenario.hole = Some(face(Film::Still));
    let wall = BoundaryPoint { face: FaceName::Hole, radius_m: 0.030, height_m: 0.02 };
    let mut films = Films::new(&scenario, (&[wall], &[0.01]), None);
    films.enter(0.0, 3600.0);
    let mut exchange = [Exchange::default()];
    films.exchange(0.0, &[AIR + 4.0], &mut exchange);
    let (air, height) = (air_at(AIR + 2.0), 0.0355);
    let spread = air.kinematic_viscosity() * air.thermal_diffusivity();
    let rayleigh = 9.806_65 / AIR * 4.0 * f64::powi(height, 3) / spread;
    let film = free::vertical_plate(rayleigh, air.prandtl()).value * air.conductivity / height;
    // The hand's height is good to half a tenth of a millimetre.
    assert_relative_eq!(exchange[0].flux, 4.0 * film, max_relative = 2e-3);
    assert!(breaks(&scenario).jumps.hole.is_empty());
}

#[test]
fn a_fan_helps_a_cold_back_more_than_a_warm_one() {
    let mut scenario = still_night();
    scenario.back = face(fan(Cell::Open));
    scenario.night.fan_speed = Profile::constant(0.2);
    let films = entered(&scenario);
    let warm = exchange_at(&films, 0.0, AIR + 5.0)[7].flux;
    let cold = exchange_at(&films, 0.0, AIR - 5.0)[7].flux.abs();
    assert!(warm < cold, "stable {warm}, unstable {cold}");
}

#[test]
fn a_given_film_follows_its_profile_its_factor_and_its_air() {
    let mut scenario = still_night();
    let coefficient = Profile::new(vec![0.0, 0.1, 0.1, 0.2], vec![25.0, 25.0, 4.0, 6.0]);
    let factor = Profile::new(vec![0.0, 100.0, 100.0, 300.0], vec![1.0, 1.0, 0.2, 0.4]);
    let air_offset = TemperatureDifference::from_kelvins(2.0);
    scenario.front = face(Film::Given { coefficient, factor, air_offset });
    let mut films = Films::new(&scenario, (&points(), &[0.01; 8]), None);
    films.enter(0.0, 100.0);
    let before = exchange_at(&films, 100.0, AIR + 5.0);
    // Points 1, 3, 6 lie at radii 0, 0.1 and 0.2; the jump belongs to its outside.
    assert_relative_eq!(before[1].flux, 25.0 * 3.0, max_relative = 1e-12);
    assert_relative_eq!(before[3].flux, 4.0 * 3.0, max_relative = 1e-12);
    assert_relative_eq!(before[6].flux, 6.0 * 3.0, max_relative = 1e-12);
    films.enter(100.0, 300.0);
    assert_relative_eq!(exchange_at(&films, 100.0, AIR)[1].slope, 5.0, max_relative = 1e-12);
    assert_relative_eq!(exchange_at(&films, 200.0, AIR)[1].slope, 7.5, max_relative = 1e-12);
    assert_relative_eq!(exchange_at(&films, 300.0, AIR)[1].slope, 10.0, max_relative = 1e-12);
}

#[test]
fn forced_films_follow_the_wind_within_a_stretch() {
    let mut scenario = still_night();
    scenario.front = face(Film::Breeze { shelter: 0.4 });
    scenario.night.wind = Some(Profile::new(vec![0.0, 28_800.0], vec![0.0, 4.0]));
    let films = entered(&scenario);
    for (time, wind) in [(7_200.0, 0.4), (14_400.0, 0.8), (28_800.0, 1.6)] {
        let forced = forced::breeze(wind, 0.406, &air_at(AIR)).film;
        // At 1 mK free convection adds less than a hundredth at these winds.
        let slope = exchange_at(&films, time, AIR + 1e-3)[1].slope;
        assert_relative_eq!(slope, forced, max_relative = 1e-2);
    }
}
