//! The pixels of a picture.

use std::fs::File;
use std::io::BufReader;
use std::path::Path;

/// A picture as it was written.
pub(crate) struct Pixels {
    pub(crate) width: usize,
    pub(crate) height: usize,
    rgb: Vec<u8>,
}

impl Pixels {
    pub(crate) fn read(path: &Path) -> Self {
        let file = BufReader::new(File::open(path).unwrap());
        let mut reader = png::Decoder::new(file).read_info().unwrap();
        let mut rgb = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut rgb).unwrap();
        assert_eq!(info.color_type, png::ColorType::Rgb, "{}", path.display());
        Self { width: info.width as usize, height: info.height as usize, rgb }
    }

    pub(crate) fn at(&self, x: usize, y: usize) -> [u8; 3] {
        let start = 3 * (y * self.width + x);
        [self.rgb[start], self.rgb[start + 1], self.rgb[start + 2]]
    }

    /// Whether a pixel has a colour, give or take what blending with neighbours does.
    pub(crate) fn is(&self, x: usize, y: usize, colour: [u8; 3]) -> bool {
        self.at(x, y).iter().zip(colour).all(|(a, b)| a.abs_diff(b) < 10)
    }

    /// From and to of each run of a colour along a row, in columns.
    pub(crate) fn runs(
        &self,
        y: usize,
        columns: (usize, usize),
        colour: [u8; 3],
    ) -> Vec<(usize, usize)> {
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for x in columns.0..columns.1 {
            if self.is(x, y, colour) {
                match runs.last_mut() {
                    Some(run) if run.1 + 1 == x => run.1 = x,
                    _ => runs.push((x, x)),
                }
            }
        }
        runs
    }
}
