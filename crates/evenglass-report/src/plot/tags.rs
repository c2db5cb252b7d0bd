//! Words above moments of the clock: in rows, so that none hides another.

use crate::lettering::{Lettering, width};

/// What is said of a moment.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tag {
    /// Where the moment lies on the sheet \[px\].
    pub(super) at: f64,
    /// What is said.
    pub(super) text: String,
    /// How many things are said in it; 0 for what may be left out and is never merged.
    pub(super) things: usize,
    /// How it is written, from its left end.
    pub(super) lettering: Lettering,
}

/// A tag that has found its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) tag: Tag,
    /// 0 is the row nearest to the moments.
    pub(super) row: usize,
    /// Where its words begin \[px\].
    pub(super) left: f64,
    /// Where they end \[px\].
    pub(super) right: f64,
}

/// The room that tags may fill.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    /// Rows one above the other.
    pub(super) rows: usize,
    /// Where the nearest row begins, right of a heading \[px\].
    pub(super) first_left: f64,
    /// Where the others begin \[px\].
    pub(super) left: f64,
    /// Where all end \[px\].
    pub(super) right: f64,
}

/// Between a moment and the first letter of its words \[px\].
const BESIDE: f64 = 6.0;

/// Between the words of two tags \[px\].
const APART: f64 = 16.0;

/// The longest text that two merged tags are spelt out in \[px\].
const LONGEST: f64 = 300.0;

/// Gives every tag a place, from the last to the first, so that a line from a moment up to its
/// words crosses no other words. Where the rows do not hold them all, neighbours become one.
///
/// * `many` — what several things are called: "changes"
pub(super) fn placed(mut tags: Vec<Tag>, room: Room, many: &str) -> Vec<Placed> {
    tags.sort_by(|a, b| a.at.total_cmp(&b.at));
    // What lies within a few pixels cannot be told apart anyway.
    while let Some(pair) = closest(&tags).filter(|&i| tags[i + 1].at - tags[i].at < 4.0) {
        merge(&mut tags, pair, many);
    }
    loop {
        let found = in_rows(&tags, room);
        if found.len() == tags.len() {
            return found;
        }
        if let Some(pair) = closest(&tags) {
            merge(&mut tags, pair, many);
        } else if let Some(last) = tags.iter().rposition(|tag| tag.things == 0) {
            tags.remove(last);
        } else {
            return found;
        }
    }
}

fn in_rows(tags: &[Tag], room: Room) -> Vec<Placed> {
    let mut ends = vec![room.right; room.rows];
    let mut found = Vec::with_capacity(tags.len());
    for tag in tags.iter().rev() {
        let wide = width(&tag.text, tag.lettering);
        let place = ends.iter().enumerate().find_map(|(row, &end)| {
            let from = if row == 0 { room.first_left } else { room.left };
            // The last words of a sheet may begin left of their moment.
            let last = end >= room.right;
            let left = if last { (tag.at + BESIDE).min(end - wide) } else { tag.at + BESIDE };
            (left >= from && left + wide <= end).then_some((row, left))
        });
        if let Some((row, left)) = place {
            // No words nearer to the moments may lie across the line up to these.
            for end in &mut ends[..row] {
                *end = end.min(tag.at - BESIDE);
            }
            ends[row] = left.min(tag.at) - APART;
            found.push(Placed { tag: tag.clone(), row, left, right: left + wide });
        }
    }
    found.reverse();
    found
}

/// The first of the two neighbours that lie closest and may be merged.
fn closest(tags: &[Tag]) -> Option<usize> {
    let pairs = tags.windows(2).enumerate().filter(|(_, pair)| pair.iter().all(|t| t.things > 0));
    let gap = |pair: &[Tag]| pair[1].at - pair[0].at;
    pairs.min_by(|a, b| gap(a.1).total_cmp(&gap(b.1))).map(|(first, _)| first)
}

fn merge(tags: &mut Vec<Tag>, first: usize, many: &str) {
    let second = tags.remove(first + 1);
    let tag = &mut tags[first];
    let spelt = format!("{}, then {}", tag.text, second.text);
    let short = tag.things + second.things == 2 && width(&spelt, tag.lettering) <= LONGEST;
    tag.things += second.things;
    tag.text = if short { spelt } else { format!("{} {many}", tag.things) };
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::INK;

    const ROOM: Room = Room { rows: 3, first_left: 300.0, left: 120.0, right: 1580.0 };

    fn tag(at: f64, text: &str) -> Tag {
        Tag { at, text: text.to_owned(), things: 1, lettering: Lettering::new(18.0, INK) }
    }

    fn overlap(a: &Placed, b: &Placed) -> bool {
        a.row == b.row && a.left < b.right && b.left < a.right
    }

    #[test]
    fn words_that_would_collide_are_stacked_and_all_are_there() {
        let tags = [400.0, 430.0, 460.0, 1000.0].map(|at| tag(at, "fan 50 %")).to_vec();
        let found = placed(tags, ROOM, "changes");
        assert_eq!(found.iter().map(|p| p.row).collect::<Vec<_>>(), [2, 1, 0, 0]);
        for (i, a) in found.iter().enumerate() {
            assert!(found.iter().skip(i + 1).all(|b| !overlap(a, b)), "{found:?}");
            let crossed = |b: &&Placed| b.row < a.row && b.left < a.tag.at && a.tag.at < b.right;
            assert!(!found.iter().any(|b| crossed(&b)), "a line crosses words: {found:?}");
        }
    }

    #[test]
    fn long_words_do_not_lie_across_the_line_of_later_ones() {
        let long = "05:04 to 06:27 on 1 Nov, ended by front − air";
        let tags = [320.0, 480.0, 700.0, 870.0, 1110.0].map(|at| tag(at, long)).to_vec();
        let found = placed(tags, ROOM, "stretches");
        for a in &found {
            let crossed = |b: &&Placed| b.row < a.row && b.left < a.tag.at && a.tag.at < b.right;
            assert!(!found.iter().any(|b| crossed(&b)), "{found:?}");
        }
        assert_eq!(found.iter().map(|p| p.tag.things).sum::<usize>(), 5, "all are told");
    }

    #[test]
    fn more_than_fit_become_one_that_counts_them() {
        let tags: Vec<Tag> =
            (0..400).map(|i| tag(500.0 + 0.5 * f64::from(i), "cover on")).collect();
        let found = placed(tags, ROOM, "changes");
        assert_eq!(found.iter().map(|p| p.tag.things).sum::<usize>(), 400, "none is lost");
        assert!(found.iter().any(|p| p.tag.text.ends_with("changes")), "{found:?}");
        let two = placed(vec![tag(700.0, "fan 20 %"), tag(702.0, "fan off")], ROOM, "changes");
        assert_eq!(two[0].tag.text, "fan 20 %, then fan off");
    }

    #[test]
    fn the_last_words_stay_on_the_sheet() {
        let found = placed(vec![tag(1578.0, "fan stands at 20 %")], ROOM, "changes");
        assert!(found.len() == 1 && found[0].right <= ROOM.right, "{found:?}");
        let beside_heading = placed(vec![tag(130.0, "cover off")], ROOM, "changes");
        assert_eq!(beside_heading[0].row, 1, "above the heading, not on it");
    }
}
