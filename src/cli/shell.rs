//! Words as a shell takes them, for the commands that screens propose.

/// A file name, quoted where it must be.
pub(super) fn quoted(name: &str) -> String {
    let is_plain = |c: char| c.is_alphanumeric() || "/._-+,:@%".contains(c);
    // An equals sign is plain but where a word begins: some shells look there
    // for a command.
    let plain = name.chars().all(|c| is_plain(c) || c == '=') && !name.starts_with('=');
    if !name.is_empty() && plain {
        name.to_owned()
    } else {
        format!("'{}'", name.replace('\'', r"'\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_with_blanks_are_quoted() {
        assert_eq!(quoted("a/b-1.json"), "a/b-1.json");
        assert_eq!(quoted("gears.min_teeth=20"), "gears.min_teeth=20");
        assert_eq!(quoted("=x"), "'=x'");
        assert_eq!(quoted("my box.json"), "'my box.json'");
        assert_eq!(quoted("it's"), r"'it'\''s'");
    }
}
