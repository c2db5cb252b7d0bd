//! What was asked for and is not computed yet.

use evenglass_scenario::Scenario;

use crate::result::Warning;

/// A warning that names the keys which were written and do nothing, if there are any.
pub(crate) fn warning(scenario: &Scenario) -> Option<Warning> {
    let keys = &scenario.unused;
    let (last, others) = keys.split_last()?;
    let (names, are) = match others {
        [] => ((*last).to_owned(), "is"),
        others => (format!("{} and {last}", others.join(", ")), "are"),
    };
    Some(Warning {
        code: "run::not-used",
        text: format!("{names} {are} read, but this version does not use {}", them(keys)),
        count: keys.len() as u64,
    })
}

fn them(keys: &[&str]) -> &'static str {
    if keys.len() == 1 { "it" } else { "them" }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    const NIGHT: &str = r#"
[mirror]
diameter = "200 mm"
edge_thickness = "25 mm"
glass = "borosilicate"
[night]
start = "20:00"
duration = "1 h"
glass_temperature = "20 degC"
cloud = 0.2
air = { kind = "steady", temperature = "10 degC" }
"#;

    fn said(more: &str) -> Option<Warning> {
        let text = format!("{NIGHT}{more}");
        warning(&evenglass_scenario::parse("n.toml", &text, Path::new(""), &[]).unwrap())
    }

    #[test]
    fn keys_that_do_nothing_are_named_and_only_if_they_were_written() {
        let alone = said("").unwrap();
        assert_eq!(alone.text, "night.cloud is read, but this version does not use it");
        let telescope = "[telescope]\nform = 'truss'\nclearance = '20 mm'\nlength = '200 mm'\n";
        assert_eq!(said(telescope), None, "the sky above a telescope has clouds");
        let site = said(&format!(
            "[good]\nheld_for = '1 h'\n[site]\nlatitude = '50 deg'\nlongitude = '9 deg'\n{telescope}"
        ));
        assert_eq!(
            site.unwrap().text,
            "site.latitude and site.longitude are read, but this version does not use them"
        );
    }
}
