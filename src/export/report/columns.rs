//! Records that are much alike, laid out so that alike parts stand together:
//! packed so they take a fifth of the room.

use super::written::{Part, put_all};

/// Adds a list of values as columns: where all are objects of the same keys, `{"keys":
/// {key: columns}}`; where all are lists, `{"items": [columns], "lengths": [...]}`, the
/// columns of a place those of the lists that are long enough; else `{"each": [...]}`.
pub(super) fn column(values: &[Part<'_>], json: &mut Vec<u8>) {
    if let Some(fields) = same_keys(values) {
        put_fields(&fields, json);
    } else if let Some(lists) = lists(values) {
        put_lists(&lists, json);
    } else {
        json.extend_from_slice(b"{\"each\":");
        put_all(*b"[]", values, json, |value, json| value.put(json));
        json.push(b'}');
    }
}

/// Of an object, keys and values.
type Fields<'a> = Vec<(&'a [u8], Part<'a>)>;

/// The fields of all, where all are objects with the same keys in the same order.
fn same_keys<'a>(values: &[Part<'a>]) -> Option<Vec<Fields<'a>>> {
    let first = values.first()?.fields()?;
    let keys = || first.iter().map(|(key, _)| key);
    let alike = |value: &Part<'a>| {
        let fields = value.fields()?;
        fields
            .iter()
            .map(|(key, _)| key)
            .eq(keys())
            .then_some(fields)
    };
    values.iter().map(alike).collect()
}

fn put_fields(objects: &[Fields<'_>], json: &mut Vec<u8>) {
    json.extend_from_slice(b"{\"keys\":");
    let keys = objects.first().into_iter().flatten().enumerate();
    put_all(*b"{}", keys, json, |(at, (key, _)), json| {
        json.extend_from_slice(key);
        let all = objects.iter().filter_map(|fields| fields.get(at));
        column(&all.map(|(_, value)| *value).collect::<Vec<_>>(), json);
    });
    json.push(b'}');
}

/// The items of all, where all are lists.
fn lists<'a>(values: &[Part<'a>]) -> Option<Vec<Vec<Part<'a>>>> {
    values.first()?;
    values.iter().map(|value| value.items()).collect()
}

fn put_lists(lists: &[Vec<Part<'_>>], json: &mut Vec<u8>) {
    json.extend_from_slice(b"{\"items\":");
    let longest = lists.iter().map(Vec::len).max().unwrap_or_default();
    put_all(*b"[]", 0..longest, json, |at, json| {
        let all = lists.iter().filter_map(|items| items.get(at));
        column(&all.copied().collect::<Vec<_>>(), json);
    });
    json.extend_from_slice(b",\"lengths\":");
    put_all(*b"[]", lists, json, |items, json| {
        json.extend_from_slice(items.len().to_string().as_bytes());
    });
    json.push(b'}');
}

#[cfg(test)]
mod tests {
    use super::super::written::Written;
    use super::*;
    use serde_json::{Value, json};

    fn of(values: &[Value]) -> Value {
        let written = values.iter().map(|value| Written::of(value).unwrap());
        let written: Vec<Written> = written.collect();
        let whole: Vec<Part<'_>> = written.iter().map(Written::whole).collect();
        let mut json = Vec::new();
        column(&whole, &mut json);
        serde_json::from_slice(&json).unwrap()
    }

    #[test]
    fn values_of_the_same_keys_are_taken_apart() {
        let one = json!({ "b": 1, "c": { "d": 2, "e": [] }, "f": { "g": true } });
        let other = json!({ "b": 3, "c": { "d": 4 }, "f": { "g": null } });
        let wanted = json!({ "keys": {
            "b": { "each": [1, 3] },
            "c": { "each": [{ "d": 2, "e": [] }, { "d": 4 }] },
            "f": { "keys": { "g": { "each": [true, null] } } },
        } });
        assert_eq!(of(&[one, other]), wanted);
        assert_eq!(of(&[json!({})]), json!({ "keys": {} }));
    }

    #[test]
    fn lists_are_taken_apart_place_by_place() {
        let lists = [
            json!([1, { "a": 2 }]),
            json!([]),
            json!([[3], { "a": 4 }, "x"]),
        ];
        let wanted = json!({
            "items": [
                { "each": [1, [3]] },
                { "keys": { "a": { "each": [2, 4] } } },
                { "each": ["x"] },
            ],
            "lengths": [2, 0, 3],
        });
        assert_eq!(of(&lists), wanted);
        assert_eq!(of(&[json!([])]), json!({ "items": [], "lengths": [0] }));
    }

    #[test]
    fn values_of_other_keys_stay_whole() {
        for values in [
            vec![json!({ "a": 1, "b": [{}] }), json!({ "b": 1, "a": 1 })],
            vec![json!({ "a": 1 }), json!({ "a": 1, "b": 2 })],
            vec![json!({ "a": 1 }), Value::Null],
            vec![json!([{ "a": 1 }, 2]), json!("x\ny")],
            vec![json!([]), json!({})],
            vec![json!("["), json!("[")],
            vec![],
        ] {
            assert_eq!(of(&values), json!({ "each": values }));
        }
    }
}
