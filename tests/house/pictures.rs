//! Pictures in the documents are those the program draws today.

use std::fs::{self, File};
use std::io::BufReader;
use std::path::Path;

use crate::workspace::is_to_be_updated;

/// A channel that differs by less is the same colour to the eye.
const VISIBLE: u8 = 32;

/// One pixel in so many may differ: rounding on another machine moves the edge of a
/// line here and there, while a curve that is off by a pixel's width moves twice as many.
const ONE_IN: usize = 1000;

/// Width in channels, and all channels, of a picture.
fn pixels(file: &Path) -> (usize, Vec<u8>) {
    let opened = File::open(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let mut reader = png::Decoder::new(BufReader::new(opened)).read_info().unwrap();
    let mut channels = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut channels).unwrap();
    (frame.line_size, channels)
}

/// How many channels differ visibly.
fn differing(one: &[u8], other: &[u8]) -> usize {
    one.iter().zip(other).filter(|(a, b)| a.abs_diff(**b) > VISIBLE).count()
}

/// Asserts that `shown`, which a document shows, is what `made` shows, or brings it up to date.
pub(crate) fn compare(made: &Path, shown: &Path) {
    if is_to_be_updated() {
        fs::copy(made, shown).unwrap();
    }
    let ((width, made), (shown_width, shown_pixels)) = (pixels(made), pixels(shown));
    let same_size = width == shown_width && made.len() == shown_pixels.len();
    assert!(
        same_size && differing(&made, &shown_pixels) * ONE_IN <= made.len(),
        "{} is not what the program draws; EVENGLASS_UPDATE=1 cargo house draws it anew",
        shown.display()
    );
}

#[test]
fn a_visible_change_is_counted_and_an_invisible_one_is_not() {
    assert_eq!(differing(&[0, 100, 200], &[10, 100, 160]), 1);
}
