//! The one policy of turning numbers into text.

/// `value` with `decimals` digits after the point, halves away from zero as on
/// paper (`25.625` is `25.63`); never "-0".
pub fn plain(value: f64, decimals: usize) -> String {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(i32::MAX));
    let rounded = (value * scale).round() / scale;
    let value = if rounded.is_finite() { rounded } else { value };
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// [`plain`] without needless digits: `0.8`, `40`.
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = plain(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// [`plain`] with an explicit sign: `+0.44`, `-7.04`, `0.00`.
pub fn signed(value: f64, decimals: usize) -> String {
    let text = plain(value, decimals);
    let is_zero = text.bytes().all(|b| b == b'0' || b == b'.');
    if is_zero || text.starts_with('-') {
        text
    } else {
        format!("+{text}")
    }
}

/// The same words with a capital first: `Reverse`.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Groups the digits of a whole number by thin spaces: `13 524`.
pub fn thousands(digits: &str) -> String {
    let mut out = String::with_capacity(digits.len() * 2);
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push('\u{2009}');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(plain(-0.001, 2), "0.00");
        assert_eq!(signed(-0.001, 2), "0.00");
        assert_eq!(plain(25.625, 2), "25.63");
        assert_eq!(plain(-25.625, 2), "-25.63");
        assert_eq!(plain(1e300, 1).len(), 303);
        assert_eq!(trimmed(-0.0001, 3), "0");
        assert_eq!(trimmed(40.25, 3), "40.25");
        assert_eq!(trimmed(40.0, 0), "40");
        assert_eq!(signed(0.444, 2), "+0.44");
        assert_eq!(signed(-7.04, 2), "-7.04");
    }

    #[test]
    fn digits_are_grouped_from_the_right() {
        assert_eq!(thousands("13524"), "13\u{2009}524");
        assert_eq!(thousands("999"), "999");
        assert_eq!(thousands("1000000"), "1\u{2009}000\u{2009}000");
    }
}
