//! How the shafts lie, and what follows from that alone.

use super::teeth::Shaft;

/// How the shafts lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// Input and main shaft on one axis, layshaft parallel to it; a head pair
    /// (input shaft to layshaft) drives the layshaft.
    InLine,
    /// Input and output shaft parallel; one pair a speed.
    Offset,
}

impl Arrangement {
    /// The shafts of such a box from the input on, the idler's pin aside.
    pub const fn shafts(self) -> &'static [Shaft] {
        match self {
            Self::InLine => &[Shaft::Input, Shaft::Layshaft, Shaft::Main],
            Self::Offset => &[Shaft::Input, Shaft::Output],
        }
    }

    /// What belongs to the driving and the driven gear of a speed or of reverse,
    /// as upper and lower: the upper axis is the origin, that of the main shaft
    /// or of the input of an offset box.
    pub fn upper_lower<T>(self, [driver, driven]: [T; 2]) -> [T; 2] {
        match self {
            Self::InLine => [driven, driver],
            Self::Offset => [driver, driven],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_upper_axis_is_that_of_main_or_input() {
        assert_eq!(
            Arrangement::InLine.upper_lower(["layshaft", "main"]),
            ["main", "layshaft"]
        );
        assert_eq!(
            Arrangement::Offset.upper_lower(["input", "output"]),
            ["input", "output"]
        );
    }
}
