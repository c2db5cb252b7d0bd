//! Folders that cannot be written and disks that are full.
#![cfg(unix)]

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Command;

use crate::place::{Place, QUICK};

/// Whether the permissions of a folder mean anything to this user.
fn can_write_into(folder: &Path) -> bool {
    let probe = folder.join("probe");
    let written = fs::write(&probe, "x").is_ok();
    let _ = fs::remove_file(probe);
    written
}

#[test]
fn a_folder_that_may_not_be_written_is_refused_with_the_reason() {
    let place = Place::with_quick();
    let locked = place.file("locked");
    fs::create_dir(&locked).unwrap();
    fs::set_permissions(&locked, Permissions::from_mode(0o555)).unwrap();
    if can_write_into(&locked) {
        // The superuser may write anywhere but where the system itself refuses.
        eprintln!("permissions do not bind this user; testing below /proc instead");
        place.say(&["run", "quick.toml", "--out", "/proc/evenglass"]).refused(1, "output::write");
        return;
    }
    place.say(&["run", "quick.toml", "--out", "locked/result"]).refused(1, "output::write");
}

#[test]
fn an_earlier_result_that_is_read_only_inside_is_replaced_or_kept_whole() {
    let place = Place::with_quick();
    place.succeed(&["run", "quick.toml"]);
    for name in place.contents("quick-out").into_keys() {
        let file = place.file(format!("quick-out/{name}"));
        fs::set_permissions(file, Permissions::from_mode(0o444)).unwrap();
    }
    let before = place.contents("quick-out");
    let said = place.say(&["run", "quick.toml", "--set", "title=\"another\""]);
    let after = place.contents("quick-out");
    match said.status {
        Some(0) => assert!(after["summary.json"] != before["summary.json"], "{said:?}"),
        _ => assert!(after == before, "neither replaced nor kept: {said:?}"),
    }
    assert_eq!(place.names(), ["quick-out", "quick.toml"], "{said:?}");
}

/// A file system of its own, gone with the value.
struct SmallDisk {
    place: Place,
}

impl SmallDisk {
    /// `None` where this user may not mount.
    fn of(bytes: u32) -> Option<Self> {
        let place = Place::empty();
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={bytes}"), "tmpfs"])
            .arg(place.path())
            .output();
        mounted.is_ok_and(|output| output.status.success()).then_some(Self { place })
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.place.path()).status();
    }
}

#[test]
fn a_full_disk_leaves_no_half_written_result_and_keeps_the_earlier_one() {
    let Some(disk) = SmallDisk::of(1 << 23) else {
        eprintln!("skipped: this user may not mount a small disk");
        return;
    };
    let place = &disk.place;
    place.write("quick.toml", QUICK);
    place.succeed(&["run", "quick.toml"]);
    let before = place.contents("quick-out");
    fill(&place.file("ballast"));
    let said = place.say(&["run", "quick.toml"]);
    said.refused(1, "output::write");
    assert!(place.contents("quick-out") == before, "the earlier result changed");
    assert_eq!(place.names(), ["ballast", "quick-out", "quick.toml"], "{said:?}");
}

/// Takes all that is left, to the last block.
fn fill(file: &Path) {
    use std::io::Write;

    let mut ballast = fs::File::create(file).unwrap();
    while ballast.write_all(&[0; 4096]).is_ok() {}
}
