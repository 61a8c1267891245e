//! The text of a new workshop file.

/// A workshop file of every key, with comments: what is taken where a key is
/// missing, and invented examples as comments where nothing is.
pub const WORKSHOP_STARTER: &str = include_str!("shed.json");

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::stockist;
    use crate::problem::workplace::WORKSHOP;
    use crate::problem::{Workshop, parse_workshop};

    fn read(text: &str) -> Workshop {
        parse_workshop("shed.json", text).unwrap().1
    }

    /// The text with its examples as values.
    fn told_to_use_its_examples() -> String {
        let bare = |line: &str| {
            let inner = line.trim_start();
            let example = ["//\"", "//{", "//]"].iter().any(|s| inner.starts_with(s));
            let cut = if example { 2 } else { 0 };
            inner[cut..].to_owned() + "\n"
        };
        WORKSHOP_STARTER.lines().map(bare).collect()
    }

    #[test]
    fn as_it_stands_it_is_the_usual_workshop() {
        let mut usual = stockist::usual();
        usual.given = true;
        usual.cutter_prices_taken = false;
        assert_eq!(read(WORKSHOP_STARTER), usual);
    }

    #[test]
    fn its_examples_are_sound_and_every_key_is_shown() {
        let text = told_to_use_its_examples();
        let workshop = read(&text);
        assert_eq!((workshop.bars().len(), workshop.rack().len()), (3, 2));
        assert_eq!(workshop.cutters().len(), 7);
        let (value, _) = parse_workshop("shed.json", &text).unwrap();
        for key in WORKSHOP.keys {
            assert!(value.get(key.usual()).is_some(), "{}", key.name);
        }
    }

    #[test]
    fn invented_examples_say_so_and_lines_fit() {
        let blocks = WORKSHOP_STARTER.split("\n\n");
        let with_examples = blocks.filter(|block| block.contains("//\""));
        let mut count = 0;
        for block in with_examples.skip(1) {
            assert!(block.contains("Invented."), "{block}");
            count += 1;
        }
        assert!(count >= 5, "{count}");
        assert!(
            WORKSHOP_STARTER
                .lines()
                .all(|line| line.chars().count() <= 80)
        );
    }
}
