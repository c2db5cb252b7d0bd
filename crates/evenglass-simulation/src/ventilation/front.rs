//! Moved air along the front of the glass.

use std::f64::consts::PI;
use std::sync::Arc;

use evenglass_convection::cross::SideJet;
use evenglass_convection::duct;
use evenglass_convection::jet::RoundJet;
use evenglass_convection::mixed::independent;
use evenglass_convection::sheet::{Nozzle, Sheet, SheetAir, SheetConstants};
use evenglass_convection::wall_jet;
use evenglass_materials::moist_air::AirProperties;
use evenglass_scenario::ventilation::{Fans, Feed, RingNozzle, Rows, SideFans};

use super::back;
use super::field::{Field, Local};
use super::network::blown_area;

/// Contraction of the sheet behind long parallel lips and behind a sharp edge [-].
const PARALLEL_LIPS: f64 = 0.98;
const SHARP_EDGE: f64 = 0.62;

/// Largest ratio of the sheet's own temperature excess to its mean (eq. V-8): a layer is
/// hotter where it is fast [-]; ours.
const PEAK_OVER_MEAN: f64 = 1.3;

/// Least width of the ring next to the lip that is given points of its own \[m\].
const LEAST_LIP_ZONE: f64 = 0.0095;

/// Power of the slot's local width, and of its local speed, in the film (eq. V-13): a
/// laminar layer feels the speed's root and not the width, a turbulent one both; ours.
const WIDTH_POWER: f64 = 0.4;
const SPEED_POWER: f64 = 0.7;

/// One standard deviation of a fan's film across the front [-].
const CROSS_SIGMA: f64 = 0.30;
/// Of the jet of a fan above [-].
const ABOVE_SIGMA: f64 = 0.35;

/// Moved air at the front in one state.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stream<'a> {
    /// Towards the front [m³/s].
    pub(crate) flow: f64,
    pub(crate) air: &'a AirProperties,
    /// Of the glass and of its hole \[m\].
    pub(crate) radius: f64,
    pub(crate) hole_radius: f64,
}

impl Stream<'_> {
    fn gain(&self, flow: f64) -> f64 {
        1.0 / (self.air.density * self.air.specific_heat * flow)
    }
}

/// The sheet of a ring nozzle (eqs. C-34 to C-47).
pub(crate) fn sheet(ring: &RingNozzle, stream: Stream<'_>) -> Sheet {
    let nozzle = Nozzle {
        radius: stream.radius + ring.setback.metres(),
        slot: ring.slot.metres(),
        flow: stream.flow,
        contraction: if ring.lip.metres() > 0.0 { PARALLEL_LIPS } else { SHARP_EDGE },
        turbulence: ring.turbulence,
        lip_height: ring.height.metres(),
        glass_radius: stream.radius.min(stream.radius + ring.setback.metres()),
        inner_radius: stream.hole_radius,
    };
    Sheet::solve(&nozzle, &sheet_air(stream.air), &SheetConstants::default())
}

/// The film of a solved sheet, with what makes its slot uneven (eqs. V-8 and V-13).
pub(crate) fn ring(
    ring: &RingNozzle,
    sheet: &Arc<Sheet>,
    stream: Stream<'_>,
    uneven_speed: &[(f64, f64)],
) -> Field<'static> {
    let solved = Arc::clone(sheet);
    let (entered, heat) = (stream.flow, stream.air.density * stream.air.specific_heat);
    let law = move |radius: f64| {
        let flow = solved.flow(radius.max(solved.column_radius)).max(entered);
        let speed = solved.speed(radius).max(1e-6);
        let gathered = PEAK_OVER_MEAN.min(flow / entered);
        Local {
            film: solved.film(radius),
            sluggishness: solved.half_depth(radius) / (speed * speed),
            arriving: gathered / (heat * flow),
            gain: gathered / (heat * flow),
            relative_sigma: solved.estimate(radius).relative_sigma,
        }
    };
    let mut breaks = sheet.breaks();
    // Where the sheet comes down the film has its peak: in the middle of a block of its own,
    // where points of even order lie.
    if let Some(peak) = breaks.last().map(|last| stream.radius - last) {
        breaks.push(stream.radius - (2.0 * peak).max(LEAST_LIP_ZONE));
    }
    let field = Field::round(law, breaks);
    let width = ring.slot_range.map_or(0.0, |(narrow, wide)| {
        let (narrow, wide) = (narrow.metres(), wide.metres());
        (wide - narrow) / (wide + narrow)
    });
    let mut orders: Vec<(f64, f64, f64)> = vec![];
    if width > 0.0 {
        orders.push((1.0, WIDTH_POWER * width, ring.slot_angle.radians()));
    }
    if let Feed::OnePoint(angle) = ring.feed {
        let each = (1_u32..).zip(uneven_speed);
        orders.extend(each.map(|(order, &(share, turn))| {
            (f64::from(order), SPEED_POWER * share, angle.radians() + turn)
        }));
    }
    if orders.is_empty() {
        return field;
    }
    field.times(move |angle| {
        1.0 + orders.iter().map(|(m, share, at)| share * (m * (angle - at)).cos()).sum::<f64>()
    })
}

/// Rows of fans beside the mirror (eqs. C-64 to C-66, V-16).
pub(crate) fn side_fans(side: &SideFans, fans: &Fans, stream: Stream<'_>) -> Field<'static> {
    let rows: &[f64] = match side.rows {
        Rows::OneSide => &[0.0],
        Rows::BothSides => &[0.0, PI],
    };
    let each_row = fans.count.div_ceil(u32::try_from(rows.len()).unwrap_or(1)).max(1);
    let away = stream.radius + side.distance.metres();
    let mut axes = Vec::new();
    for &turn in rows {
        for number in 0..each_row {
            let place = (f64::from(number) + 0.5) / f64::from(each_row) - 0.5;
            axes.push(Axis {
                direction: side.angle.radians() + turn,
                away,
                aside: place * side.width.metres(),
            });
        }
    }
    axes.truncate(fans.count as usize);
    across(&axes, fans, side.height.metres(), stream)
}

/// Fans in the corners, aimed at the axis.
pub(crate) fn corner_fans(
    (distance, height, first): (f64, f64, f64),
    fans: &Fans,
    stream: Stream<'_>,
) -> Field<'static> {
    let axes: Vec<Axis> = (0..fans.count)
        .map(|number| Axis {
            direction: first + 2.0 * PI * f64::from(number) / f64::from(fans.count),
            away: stream.radius + distance,
            aside: 0.0,
        })
        .collect();
    across(&axes, fans, height, stream)
}

/// Where a fan stands and how it looks: from `direction`, `away` from the middle, its
/// axis `aside` of the line to the middle \[rad, m\].
#[derive(Debug, Clone, Copy)]
struct Axis {
    direction: f64,
    away: f64,
    aside: f64,
}

/// Films of jets along the front, the failed ones left out.
fn across(axes: &[Axis], fans: &Fans, height: f64, stream: Stream<'_>) -> Field<'static> {
    let running: Vec<Axis> = axes.iter().skip(back::standing(fans) as usize).copied().collect();
    let each = stream.flow / running.len().max(1) as f64;
    let jet = SideJet { speed: each / blown_area(fans), area: blown_area(fans) };
    let air = sheet_air(stream.air);
    let gain = stream.gain(stream.flow);
    let above = (height - 0.5 * fans.diameter.metres()).max(0.0);
    let law = move |radius: f64, angle: f64| {
        let mut sluggishness = f64::INFINITY;
        let mut films = Vec::with_capacity(running.len());
        for axis in &running {
            let turned = angle - axis.direction;
            let along = (axis.away - radius * turned.cos()).max(0.0);
            let across = radius * turned.sin() - axis.aside;
            let (depth, _) = jet.half_widths(along);
            // A jet whose lower edge is above the glass grazes it with what has spread.
            let grazing = (-(above / depth).powi(2) * std::f64::consts::LN_2).exp();
            let speed = (grazing * jet.speed(along, across)).max(1e-3);
            sluggishness = sluggishness.min(depth / (speed * speed));
            films.push(grazing.powf(0.8) * jet.film(along, across, &air).value);
        }
        let film = independent(&films);
        Local { film, sluggishness, arriving: gain, gain, relative_sigma: CROSS_SIGMA }
    };
    Field::lopsided(law, vec![])
}

/// A fan above the middle blowing down (eq. C-12).
pub(crate) fn fan_above(distance: f64, fans: &Fans, stream: Stream<'_>) -> Field<'static> {
    let nozzle = (4.0 * blown_area(fans) / PI).sqrt();
    let speed = stream.flow / blown_area(fans);
    let jet = RoundJet {
        reynolds: speed * nozzle / stream.air.kinematic_viscosity(),
        prandtl: stream.air.prandtl(),
        distance: distance / nozzle,
    };
    let conductivity = stream.air.conductivity;
    let gain = stream.gain(stream.flow);
    let law = move |radius: f64| {
        let relative = radius / nozzle;
        let along = speed * wall_jet::free_peak_speed(relative).value;
        let depth = nozzle * wall_jet::half_depth(relative);
        Local {
            film: jet.local(relative).value * conductivity / nozzle,
            sluggishness: depth / (along * along),
            arriving: gain,
            gain,
            relative_sigma: ABOVE_SIGMA,
        }
    };
    Field::round(law, vec![2.5 * nozzle])
}

/// Air drawn outward under a baffle ring over the edge of the front, on its way down past
/// the rim; without a baffle the front feels it only within two gaps of the rim (eq. V-14).
pub(crate) fn towards_rim(baffle: Option<f64>, gap: f64, stream: Stream<'_>) -> Field<'static> {
    let begins = baffle.map_or(stream.radius - 2.0 * gap, |diameter| 0.5 * diameter).max(0.0);
    let (air, flow) = (*stream.air, stream.flow);
    let gain = stream.gain(stream.flow);
    let reach = if baffle.is_some() { gap } else { stream.radius - begins };
    let law = move |radius: f64| {
        if radius <= begins {
            return Local { relative_sigma: CROSS_SIGMA, ..Local::default() };
        }
        let reynolds = duct::radial_reynolds(flow, radius, air.kinematic_viscosity());
        let length = (radius - begins).max(0.25 * gap);
        let nusselt = duct::gap_flow(reynolds, air.prandtl(), 2.0 * gap / length).value;
        let speed = flow / (2.0 * PI * radius * gap);
        // Under a baffle the air has turned in after a gap. An open edge has no wall on the
        // other side: the sink flow fades inward all the way.
        let guided = ((radius - begins) / reach).min(1.0);
        Local {
            film: guided * nusselt * air.conductivity / (2.0 * gap),
            sluggishness: gap / (speed * speed),
            arriving: gain,
            gain,
            relative_sigma: CROSS_SIGMA,
        }
    };
    Field::round(law, vec![begins, begins + 0.25 * gap, begins + reach])
}

/// Film of a breeze from the side at angle 0, over its mean along a chord (eq. V-15): a
/// laminar layer that begins on the windward side.
pub(crate) fn breeze(rim: f64) -> Field<'static> {
    let law = move |radius: f64, angle: f64| {
        let along = along_chord(rim, (radius, angle));
        Local { film: (0.5 / along).sqrt(), ..Local::default() }
    };
    Field::lopsided(law, vec![])
}

/// Way of air that crosses the mirror from the side at angle 0, to a point from where its layer
/// begins: the edge of what stands around the glass, a tenth of the radius before it, in radii of
/// the glass [-].
pub(crate) fn along_chord(rim: f64, (radius, angle): (f64, f64)) -> f64 {
    let (across, back) = (radius / rim * angle.sin(), radius / rim * angle.cos());
    (1.0 - across * across).max(0.0).sqrt() - back + 0.1
}

/// Properties of the air as sheets and jets want them.
pub(crate) fn sheet_air(air: &AirProperties) -> SheetAir {
    SheetAir {
        density: air.density,
        specific_heat: air.specific_heat,
        conductivity: air.conductivity,
        kinematic_viscosity: air.kinematic_viscosity(),
    }
}
