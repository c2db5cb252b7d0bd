//! `[ventilation]`: the arrangement, what drives it, and perhaps a second one.

use super::{arrangement, fans, layers};
use crate::moment::Times;
use crate::read::{Reader, mm};
use crate::scenario::Mirror;
use crate::telescope::Telescope;
use crate::ventilation::{Arrangement, System, Ventilation};

/// What an arrangement is read with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known<'a> {
    pub(crate) times: Times,
    pub(crate) has_wind: bool,
    pub(crate) mirror: Option<&'a Mirror>,
    pub(crate) telescope: Option<&'a Telescope>,
    /// Whether [telescope] is there, readable or not.
    pub(crate) has_telescope: bool,
}

impl Known<'_> {
    /// Diameter of the mirror \[m\].
    pub(crate) fn mirror_diameter(&self) -> Option<f64> {
        self.mirror.map(|mirror| mirror.diameter.metres())
    }

    /// Inner width of what surrounds the mirror \[m\], if it is known.
    pub(crate) fn box_width(&self) -> Option<f64> {
        let clearance = self.telescope?.clearance.metres();
        self.mirror_diameter().map(|mirror| mirror + 2.0 * clearance)
    }

    /// Width of the board behind the mirror \[m\], and what to call it: that of the box, or at
    /// least that of the mirror.
    pub(crate) fn board(&self) -> Option<(f64, String)> {
        match (self.box_width(), self.has_telescope) {
            (Some(width), _) => Some((width, format!("the box of {}", mm(width)))),
            (None, true) => None,
            (None, false) => {
                self.mirror_diameter().map(|d| (d, format!("the mirror of {}", mm(d))))
            }
        }
    }
}

/// The ventilation, if it can exist.
pub(crate) fn read(file: &Reader<'_>, known: &Known<'_>) -> Option<Ventilation> {
    let (kind, reader) = file.kind("ventilation", "[ventilation]")?;
    let main = system(&reader, kind, known);
    let second = if reader.has_known("second") {
        reader.kind("second", "`second`").and_then(|(kind, second)| {
            let read = system(&second, kind, known);
            read.map(Some)
        })
    } else {
        Some(None)
    };
    Some(Ventilation { main: main?, second: second? })
}

impl Ventilation {
    /// Whether any of it is the wind's doing.
    pub(crate) fn needs_wind(&self) -> bool {
        let open = |system: &System| system.arrangement == Arrangement::Open;
        open(&self.main) || self.second.as_ref().is_some_and(open)
    }
}

fn system(reader: &Reader<'_>, kind: &str, known: &Known<'_>) -> Option<System> {
    if matches!(kind, "open" | "sealed") {
        if kind == "open" && !known.has_wind {
            reader.conflict(
                "kind",
                "`open` needs the wind, and [night] does not give it".to_owned(),
                "add wind = \"1 m/s\" to [night]".to_owned(),
            );
        }
        let arrangement = if kind == "open" { Arrangement::Open } else { Arrangement::Sealed };
        return Some(System { arrangement, fans: None, layers: Vec::new(), leak: None });
    }
    let fans = fans::read(reader, &known.times);
    let layers = layers::read(reader, "layers");
    let leak = reader.settled("leak", Reader::area);
    let arrangement = arrangement::read(reader, kind, fans.as_ref(), known);
    Some(System { arrangement: arrangement?, fans: Some(fans?), layers: layers?, leak: leak? })
}
