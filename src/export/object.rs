//! JSON objects made of values that are there already.

/// An object as `json!` makes it, but of the values themselves: that would copy
/// each of them, and those below again.
macro_rules! object {
    ({ $($key:literal: $value:expr),* $(,)? }) => {
        serde_json::Value::Object(serde_json::Map::from_iter([
            $(($key.to_owned(), serde_json::Value::from($value))),*
        ]))
    };
}

pub(super) use object;
