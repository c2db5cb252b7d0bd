//! `fans`: curve, number, speeds, voltage.

use evenglass_units::{Length, Power, Pressure, Voltage, VolumeRate};

use super::series;
use crate::moment::Times;
use crate::profile::Profile;
use crate::read::Reader;
use crate::ventilation::{FanData, Fans, MotorPlace};

/// Hub over blade tips where no hub is given [-]; common practice, no source.
const HUB_SHARE: f64 = 0.38;
/// How far a curve may rise again behind a stall, as a share of its greatest pressure [-];
/// common practice, no source.
const DEEPEST_DIP: f64 = 0.25;
/// Least step of flow between two points, as a share of the greatest flow [-].
const SHORTEST_STEP: f64 = 1e-3;
/// Most points of a curve.
const MOST_POINTS: usize = 200;
/// Supply over rated voltage that a fan outlives [-]; common practice, no source.
const HIGHEST_SUPPLY: f64 = 1.5;

/// The fans, if there can be such.
pub(crate) fn read(system: &Reader<'_>, times: &Times) -> Option<Fans> {
    let fans = system.inner("fans", "`fans`")?;
    let diameter = fans.length("diameter");
    let hub = hub(&fans, diameter);
    let curve = curve(&fans);
    let [count, in_series, failed] = counts(&fans);
    let speeds = speeds(&fans);
    let (rated, supply) = (fans.settled("rated_voltage", Reader::si), supply(&fans, times));
    let power = fans.si("power").map(Power::from_watts);
    let motor = fans.choice("motor");
    let noise = fans.settled("noise", Reader::si);
    let (rated, supply) = (rated?, supply?);
    check_voltage(&fans, rated, supply.as_ref());
    let (minimum_speed, start_speed) = speeds?;
    Some(Fans {
        diameter: diameter?,
        hub_diameter: hub?,
        curve: curve?,
        count: count?,
        in_series: in_series?,
        failed: failed?,
        power: power?,
        motor: if motor? == "outside" { MotorPlace::Outside } else { MotorPlace::InStream },
        minimum_speed,
        start_speed,
        rated_voltage: rated.map(Voltage::from_volts),
        supply_voltage: supply,
        noise_db: noise?,
    })
}

fn hub(fans: &Reader<'_>, diameter: Option<Length>) -> Option<Length> {
    let given = fans.settled("hub_diameter", Reader::length)?;
    let diameter = diameter?;
    let hub = given.unwrap_or_else(|| Length::from_metres(HUB_SHARE * diameter.metres()));
    if hub >= diameter {
        let fact = format!(
            "the hub of `{}` is not smaller than the fan of `{}`",
            fans.written("hub_diameter"),
            fans.written("diameter")
        );
        let help = "the hub is the closed middle of the fan, often 0.38 of its diameter; left out, it is that";
        fans.unbuildable("hub_diameter", fact, help.to_owned());
    }
    Some(hub)
}

fn counts(fans: &Reader<'_>) -> [Option<u32>; 3] {
    let [count, in_series, failed] = ["count", "in_series", "failed"].map(|key| fans.whole(key));
    if let (Some(count), Some(failed)) = (count, failed)
        && failed >= count
    {
        let fact = match count {
            1 => "the only fan has failed: no fan is left".to_owned(),
            _ => format!("of {count} fans {failed} have failed: no fan is left"),
        };
        let help = match count {
            1 => "leave `failed` out; what happens without the fan shows with fan_speed = 0 in an [[event]]".to_owned(),
            more => format!("write failed = {} or less", more - 1),
        };
        fans.conflict("failed", fact, help);
    }
    [count, in_series, failed]
}

/// Least speed and speed to start.
fn speeds(fans: &Reader<'_>) -> Option<(f64, f64)> {
    let (least, start) = (fans.number("minimum_speed"), fans.number("start_speed"));
    let (least, start) = (least?, start?);
    if start >= least {
        return Some((least, start));
    }
    if fans.has("start_speed") {
        let fact =
            format!("the fans start at {start} of full speed, but stand still below {least}");
        let help = format!("write start_speed = {least} or more; a start takes more than going on");
        fans.conflict("start_speed", fact, help);
    }
    Some((least, least))
}

#[allow(clippy::option_option, reason = "absent and wrong are two things here")]
fn supply(fans: &Reader<'_>, times: &Times) -> Option<Option<Profile>> {
    fans.settled("supply_voltage", |fans, key| series::si(fans, key, "value", times))
}

fn check_voltage(fans: &Reader<'_>, rated: Option<f64>, supply: Option<&Profile>) {
    let Some(supply) = supply else { return };
    let Some(rated) = rated else {
        fans.conflict(
            "supply_voltage",
            "`supply_voltage` is given, but no `rated_voltage`".to_owned(),
            "add the voltage at which the curve holds: rated_voltage = \"12 V\"".to_owned(),
        );
        return;
    };
    let highest = supply.values().iter().copied().fold(0.0, f64::max);
    if highest > HIGHEST_SUPPLY * rated * (1.0 + 1e-9) {
        fans.conflict(
            "supply_voltage",
            format!("a supply of {highest} V burns fans for {rated} V"),
            format!("keep it at or below {} V", HIGHEST_SUPPLY * rated),
        );
    }
}

fn curve(fans: &Reader<'_>) -> Option<FanData> {
    let has = |keys: [&str; 2]| keys.iter().any(|key| fans.has(key));
    match (has(["flow", "pressure"]), has(["free_flow", "max_pressure"])) {
        (true, true) => {
            fans.conflict(
                if fans.has("free_flow") { "free_flow" } else { "max_pressure" },
                "both points of the curve and its two ends are given".to_owned(),
                "keep `flow` and `pressure`, which say more, or `free_flow` and `max_pressure`"
                    .to_owned(),
            );
            None
        }
        (true, false) => both(fans, ["flow", "pressure"]).then(|| points(fans))?,
        (false, true) if both(fans, ["free_flow", "max_pressure"]) => {
            let (flow, pressure) = (fans.si("free_flow"), fans.si("max_pressure"));
            Some(FanData::Ends {
                free_flow: VolumeRate::from_m3_per_s(flow?),
                max_pressure: Pressure::from_pascals(pressure?),
            })
        }
        (false, true) => None,
        (false, false) => {
            fans.missing(
                "`fans` does not say what a fan does against a pressure".to_owned(),
                "add the two ends of its curve: free_flow = \"35 L/s\" and max_pressure = \"25 Pa\""
                    .to_owned(),
            );
            None
        }
    }
}

/// Whether both keys of a pair are there.
fn both(fans: &Reader<'_>, keys: [&str; 2]) -> bool {
    for (key, other) in [(keys[0], keys[1]), (keys[1], keys[0])] {
        if !fans.has(other) {
            let fact = format!("`fans` has `{key}`, but no `{other}`");
            fans.missing(fact, format!("add `{other}`: the curve needs both"));
        }
    }
    keys.iter().all(|key| fans.has(key))
}

fn points(fans: &Reader<'_>) -> Option<FanData> {
    let (flows, pressures) = (fans.si_list("flow"), fans.si_list("pressure"));
    let (flows, pressures) = (flows?, pressures?);
    let complain = |key: &str, fact: String, help: &str| {
        fans.ledger.note("scenario::table", fans.place(key), fact, help.to_owned());
        None
    };
    if flows.len() != pressures.len() {
        let fact =
            format!("`flow` has {} entries and `pressure` has {}", flows.len(), pressures.len());
        return complain("pressure", fact, "give one pressure for each flow");
    }
    if !(2..=MOST_POINTS).contains(&flows.len()) {
        let fact = match flows.len() {
            1 => "the curve has one point".to_owned(),
            more => format!("the curve has {more} points"),
        };
        let help = "give 2 to 200 points, from no flow to free flow; 4 to 6 are plenty";
        return complain("flow", fact, help);
    }
    let last = flows[flows.len() - 1];
    let step = (SHORTEST_STEP * last).max(1e-8);
    if let Some(at) = flows.windows(2).position(|pair| pair[1] < pair[0] + step) {
        let fact = format!("`flow` does not rise at entry {}", at + 2);
        let help = "put the points in the order of flow, each more than a thousandth of the last above the one before";
        return complain("flow", fact, help);
    }
    let greatest = pressures[0];
    if greatest < 0.1 {
        let fact = "the curve begins without pressure".to_owned();
        let help = "the first entry of `pressure` is that without flow, the greatest of all";
        return complain("pressure", fact, help);
    }
    if let Some(at) = pressures.iter().position(|pressure| *pressure > greatest * (1.0 + 1e-9)) {
        let fact = format!("`pressure` at entry {} is above that without flow", at + 1);
        let help = "a fan gives its greatest pressure without flow: are flow and pressure swapped?";
        return complain("pressure", fact, help);
    }
    if let Some(at) =
        pressures.windows(2).position(|pair| pair[1] > pair[0] + DEEPEST_DIP * greatest)
    {
        let fact = format!("`pressure` rises at entry {}", at + 2);
        let help = "pressure falls as flow grows; a stall dip is at most a quarter of the greatest pressure deep";
        return complain("pressure", fact, help);
    }
    let points = flows.into_iter().zip(pressures);
    Some(FanData::Points(
        points
            .map(|(flow, pressure)| {
                (VolumeRate::from_m3_per_s(flow), Pressure::from_pascals(pressure))
            })
            .collect(),
    ))
}
