//! What makers write, what it means in SI, and what is said when it means nothing.

use approx::assert_relative_eq;
use evenglass_units::{
    Angle, Conductivity, Density, Duration, Expansion, FilmCoefficient, Kind, Length, Pressure,
    SpecificHeat, Speed, Temperature, TemperatureDifference, TemperatureRate, UnitFault,
    VolumeRate, parse, split_number,
};
use proptest::prelude::*;

/// One rounding of the number, one of the scaling.
const ROUNDING: f64 = 4.0 * f64::EPSILON;

fn reads(kind: Kind, spellings: &[&str], expected: f64) {
    for text in spellings {
        let got = parse(text, kind).unwrap_or_else(|e| panic!("{text}: {e}; {}", e.remedy()));
        assert_relative_eq!(got, expected, max_relative = ROUNDING);
    }
}

fn refuses(kind: Kind, text: &str, fact: &str, remedy: &str) {
    let error = parse(text, kind).expect_err(text);
    assert_eq!(error.to_string(), fact, "fact about {text:?}");
    assert_eq!(error.remedy(), remedy, "remedy for {text:?}");
}

#[test]
fn lengths_are_read_in_every_habit_of_writing_them() {
    reads(Kind::LENGTH, &["24in", "24 in", "24\"", "24 inch", "24 inches", "24″", "24 IN"], 0.6096);
    reads(Kind::LENGTH, &["0.61 m", "61 cm", "610mm", "+610 mm", " 610  mm ", "6.1e2 mm"], 0.61);
    reads(Kind::LENGTH, &["2 ft", "2 feet"], 0.6096);
    reads(Kind::LENGTH, &["20 nm", "0.02 um", "0.02 µm", "0.02 μm"], 20e-9);
    reads(Kind::LENGTH, &["-3 m", "\u{2212}3 m", "–3 m"], -3.0);
    reads(Kind::LENGTH, &[".5 m", "5e-1 m", "0.5m"], 0.5);
}

#[test]
fn flows_are_read_in_every_habit_of_writing_them() {
    // 0.3048³ / 60, the foot exact by definition.
    let cfm = 0.028_316_846_592 / 60.0;
    reads(Kind::VOLUME_RATE, &["60 cfm", "60cfm", "60 CFM", "60 ft3/min"], 60.0 * cfm);
    reads(Kind::VOLUME_RATE, &["60 ft^3/min", "60 ft³/min", "60 ft3 per min"], 60.0 * cfm);
    reads(Kind::VOLUME_RATE, &["100 m3/h", "100 m^3/h", "100 m³/h", "100 m3 h-1"], 100.0 / 3600.0);
    reads(Kind::VOLUME_RATE, &["28 l/s", "28 L/s", "28 L s⁻¹", "28L/s", "0.028 m3/s"], 0.028);
}

#[test]
fn temperatures_are_shifted_and_differences_are_only_scaled() {
    reads(Kind::TEMPERATURE, &["68 °F", "68 degF", "68F", "68 deg F"], 293.15);
    reads(Kind::TEMPERATURE, &["20 C", "20 degC", "20°C", "20 ℃", "20 degrees Celsius"], 293.15);
    reads(Kind::TEMPERATURE, &["293.15 K", "293.15 K", "293.15K"], 293.15);
    reads(Kind::TEMPERATURE, &["-40 degC", "−40 °F"], 233.15);
    reads(Kind::TEMPERATURE_DIFFERENCE, &["0.5 K", "0.9 degF", "0.5 °C", "0.5 C"], 0.5);
    reads(Kind::TEMPERATURE_RATE, &["-1.5 K/h", "-2.7 °F/h", "-1.5 degC/h"], -1.5 / 3600.0);
}

#[test]
fn a_slash_binds_the_next_unit_and_glued_units_stay_below_it() {
    let films = [
        "8 W/m2K",
        "8 W/m²/K",
        "8 W/m^2/K",
        "8 W/(m2 K)",
        "8 W m-2 K-1",
        "8 W/(m² · K)",
        "8 W/m²K",
    ];
    reads(Kind::FILM_COEFFICIENT, &films, 8.0);
    reads(Kind::SPECIFIC_HEAT, &["720 J/kg/K", "720 J/(kg K)", "720 J/kgK", "0.72 kJ/kg/K"], 720.0);
    reads(Kind::CONDUCTIVITY, &["1 W/m/K", "1 W/(m K)", "1 W/mK", "1 W m⁻¹ K⁻¹"], 1.0);
    reads(Kind::EXPANSION, &["9.0e-6 /K", "9.0e-6/K", "9.0e-6 1/K", "9.0e-6 K^-1"], 9.0e-6);
    // Read strictly this is W K m⁻², and saying so is better than guessing.
    let error = parse("8 W/m2 K", Kind::FILM_COEFFICIENT).unwrap_err();
    assert!(matches!(error.fault, UnitFault::WrongDimension { .. }));
}

#[test]
fn the_other_quantities_are_read() {
    reads(Kind::DENSITY, &["2500 kg/m3", "2.5 g/cm3", "2.5 kg/L", "2500 kg m^-3"], 2500.0);
    reads(Kind::PRESSURE, &["70 GPa", "7e10 Pa", "7e4 MPa"], 7e10);
    reads(Kind::PRESSURE, &["1013.25 hPa", "1013.25 mbar", "101.325 kPa", "1 atm"], 101_325.0);
    reads(Kind::PRESSURE, &["30 inHg"], 101_591.67);
    reads(Kind::SPEED, &["36 km/h", "10 m/s", "36 kmh"], 10.0);
    reads(Kind::SPEED, &["10 mph", "10 mi/h"], 4.4704);
    reads(Kind::SPEED, &["10 kn", "10 knots"], 18520.0 / 3600.0);
    reads(Kind::SPEED, &["300 ft/min", "300 fpm"], 1.524);
    reads(Kind::ANGLE, &["180 deg", "180°", "180 degrees"], std::f64::consts::PI);
    reads(Kind::ANGLE, &["0.5 arcsec", "0.5\"", "0.5″"], std::f64::consts::PI / 1_296_000.0);
}

/// One millimetre of conventional water is 9.80665 Pa by its definition, an inch 249.08891 Pa.
#[test]
fn what_stands_on_the_label_of_a_fan_is_read() {
    let millimetres = ["2.5 mmH2O", "2.5mmH2O", "2.5 mm H2O", "2.5 mmH₂O", "2.5 mmAq"];
    reads(Kind::PRESSURE, &millimetres, 24.516_625);
    reads(Kind::PRESSURE, &["1 inH2O", "1 in H2O", "1 inH₂O"], 249.088_91);
    reads(Kind::AREA, &["1 m2", "10000 cm2", "1 m²", "1e6 mm^2"], 1.0);
    reads(Kind::AREA, &["80 in2", "80 in²"], 0.051_612_8);
    reads(Kind::POWER, &["1.5 W", "1500 mW", "0.0015 kW", "1.5 V A"], 1.5);
    reads(Kind::VOLTAGE, &["12 V", "12000 mV", "12 W/A"], 12.0);
    reads(Kind::SOUND_LEVEL, &["24 dB", "24 dBA", "24 dB(A)", "24dB(A)"], 24.0);
    refuses(
        Kind::POWER,
        "0.12 A",
        "`0.12 A` measures an electric current, a power is wanted",
        "write it as \"1.5 W\"",
    );
    let height = parse("2.5 H2O", Kind::PRESSURE).unwrap_err();
    assert!(matches!(height.fault, UnitFault::WrongDimension { .. }));
}

#[test]
fn durations_may_have_several_parts() {
    reads(
        Kind::DURATION,
        &["1 h 30 min", "1h30min", "90 min", "1.5 h", "5400 s", "1 h, 30 min"],
        5400.0,
    );
    reads(Kind::DURATION, &["1 h 0 min 5 s", "3605 s"], 3605.0);
    reads(Kind::DURATION, &["-1 h 30 min"], -5400.0);
    refuses(
        Kind::DURATION,
        "30 min 1 h",
        "the unit of `30 min 1 h` cannot be read",
        "write it as \"90 min\" or \"1 h 30 min\"",
    );
}

#[test]
fn what_is_wrong_is_said_with_its_remedy() {
    let flow = "\"60 cfm\" or \"100 m3/h\"";
    let length = "\"24 in\" or \"610 mm\"";
    refuses(
        Kind::VOLUME_RATE,
        "60 kg",
        "`60 kg` measures mass, a flow is wanted",
        &format!("write it as {flow}"),
    );
    refuses(
        Kind::VOLUME_RATE,
        "60 cmf",
        "`cmf` in `60 cmf` is not a unit this program knows",
        &format!("write it as {flow}"),
    );
    refuses(Kind::LENGTH, "24", "`24` has no unit", &format!("add the unit, as in {length}"));
    refuses(
        Kind::TEMPERATURE,
        "20",
        "`20` has no unit",
        "add the unit: \"20 degC\", \"20 degF\" or \"20 K\"",
    );
    refuses(
        Kind::LENGTH,
        "",
        "the text is empty, a length is wanted",
        &format!("write it as {length}"),
    );
    refuses(
        Kind::LENGTH,
        "wide",
        "`wide` does not begin with a number, a length is wanted",
        &format!("write it as {length}"),
    );
    refuses(
        Kind::LENGTH,
        "inf m",
        "`inf m` is not a finite number",
        &format!("write it as {length}"),
    );
    refuses(
        Kind::LENGTH,
        "-NaN m",
        "`-NaN m` is not a finite number",
        &format!("write it as {length}"),
    );
    refuses(
        Kind::LENGTH,
        "1e999 m",
        "`1e999 m` is too large a number",
        &format!("write it as {length}"),
    );
    refuses(
        Kind::DURATION,
        "1e308 h",
        "`1e308 h` is too large a number",
        "write it as \"90 min\" or \"1 h 30 min\"",
    );
}

#[test]
fn habits_of_writing_numbers_that_cannot_be_read_are_named() {
    let length = "\"24 in\" or \"610 mm\"";
    refuses(
        Kind::LENGTH,
        "0,5 m",
        "`0,5 m` has a comma in its number",
        &format!("write a decimal point and no thousands separator, as in {length}"),
    );
    for text in ["1/2 in", "1 1/2 in", "1 000 m"] {
        refuses(
            Kind::LENGTH,
            text,
            &format!("`{text}` has more than one number"),
            &format!("write one decimal number and its unit, as in {length}"),
        );
    }
    refuses(
        Kind::TEMPERATURE,
        "-5 K",
        "`-5 K` is below absolute zero",
        "a temperature in kelvin is positive: write \"-5 degC\" for degrees Celsius",
    );
}

#[test]
fn temperatures_and_their_differences_and_rates_are_kept_apart() {
    let said = |text, kind| parse(text, kind).unwrap_err().to_string();
    assert_eq!(
        said("-1.5 K/h", Kind::TEMPERATURE),
        "`-1.5 K/h` measures a rate of temperature, a temperature is wanted"
    );
    assert_eq!(
        said("1 K", Kind::TEMPERATURE_RATE),
        "`1 K` measures temperature, a rate of temperature is wanted"
    );
    assert_eq!(said("5 m", Kind::TEMPERATURE), "`5 m` measures length, a temperature is wanted");
}

#[test]
fn exponents_and_parentheses_have_limits() {
    for text in
        ["1 m^99999999999", "1 m^100", "1 m^", "1 m^-", "1 m0", "1 (m", "1 m)", "1 ()", "1 m/"]
    {
        let error = parse(text, Kind::LENGTH).expect_err(text);
        assert!(matches!(error.fault, UnitFault::Malformed { .. }), "{text}: {error}");
    }
    let deep = format!("1 {}m{}", "(".repeat(60), ")".repeat(60));
    assert!(parse(&deep, Kind::LENGTH).is_err());
    let long = format!("1 m{}", " m".repeat(4000));
    assert!(parse(&long, Kind::LENGTH).is_err());
}

#[test]
fn a_number_is_split_from_its_unit_as_written() {
    assert_eq!(split_number(" 6.0  W/m2/K"), Some(("6.0", "W/m2/K")));
    assert_eq!(split_number("1e-3"), Some(("1e-3", "")));
    assert_eq!(split_number("5 e"), Some(("5", "e")));
    assert_eq!(split_number("soda"), None);
}

macro_rules! prints_and_reads_back {
    ($($name:ident: $quantity:ty, $from:ident;)*) => {
        proptest! {
            $(#[test]
            fn $name(value in -1e9..1e9f64) {
                let quantity = <$quantity>::$from(value);
                let read: $quantity = quantity.to_string().parse().unwrap();
                prop_assert_eq!(read, quantity);
            })*
        }
    };
}

prints_and_reads_back! {
    a_length_prints_and_reads_back: Length, from_metres;
    a_duration_prints_and_reads_back: Duration, from_seconds;
    a_difference_prints_and_reads_back: TemperatureDifference, from_kelvins;
    a_rate_prints_and_reads_back: TemperatureRate, from_kelvins_per_second;
    a_film_prints_and_reads_back: FilmCoefficient, from_w_per_m2_k;
    a_flow_prints_and_reads_back: VolumeRate, from_m3_per_s;
    a_speed_prints_and_reads_back: Speed, from_metres_per_second;
    a_pressure_prints_and_reads_back: Pressure, from_pascals;
    a_density_prints_and_reads_back: Density, from_kg_per_m3;
    a_specific_heat_prints_and_reads_back: SpecificHeat, from_j_per_kg_k;
    a_conductivity_prints_and_reads_back: Conductivity, from_w_per_m_k;
    an_expansion_prints_and_reads_back: Expansion, from_per_kelvin;
    an_angle_prints_and_reads_back: Angle, from_radians;
}

const KINDS: [Kind; 14] = [
    Kind::LENGTH,
    Kind::DURATION,
    Kind::TEMPERATURE,
    Kind::TEMPERATURE_DIFFERENCE,
    Kind::TEMPERATURE_RATE,
    Kind::FILM_COEFFICIENT,
    Kind::VOLUME_RATE,
    Kind::SPEED,
    Kind::PRESSURE,
    Kind::DENSITY,
    Kind::SPECIFIC_HEAT,
    Kind::CONDUCTIVITY,
    Kind::EXPANSION,
    Kind::ANGLE,
];

proptest! {
    #[test]
    fn a_temperature_prints_and_reads_back(kelvin in 0.0..1e6f64) {
        let temperature = Temperature::from_kelvin(kelvin);
        prop_assert_eq!(temperature.to_string().parse::<Temperature>().unwrap(), temperature);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,40}", kind in 0..KINDS.len()) {
        let _ = parse(&text, KINDS[kind]);
    }

    #[test]
    fn no_near_miss_makes_the_reader_panic(
        text in "[-+−]?[0-9.,eE]{0,6}[ /*·^()²⁻KCFmhs°µ\"'2-]{0,12}", kind in 0..KINDS.len()
    ) {
        if let Ok(value) = parse(&text, KINDS[kind]) {
            prop_assert!(value.is_finite());
        }
    }
}
