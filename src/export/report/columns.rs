//! Records that are much alike, laid out so that alike parts stand together:
//! packed so they take a third of the room.

use super::written::{Written, put_all};

/// Adds a list of values as columns: `{"each": [...]}`, or where all are objects of
/// the same keys `{"keys": {key: {"each": [...]}}}`.
pub(super) fn column(values: &[&Written], json: &mut Vec<u8>) {
    match same_keys(values) {
        Some((keys, fields)) => {
            json.extend_from_slice(b"{\"keys\":");
            put_all(*b"{}", keys.iter().enumerate(), json, |(at, key), json| {
                json.extend_from_slice(key);
                json.push(b':');
                let all = fields.iter().filter_map(|fields| fields.get(at));
                put_each(all, json, |(_, value), json| json.extend_from_slice(value));
            });
            json.push(b'}');
        }
        None => put_each(values, json, |value, json| value.put(json)),
    }
}

fn put_each<T>(
    all: impl IntoIterator<Item = T>,
    json: &mut Vec<u8>,
    put: impl Fn(T, &mut Vec<u8>),
) {
    json.extend_from_slice(b"{\"each\":");
    put_all(*b"[]", all, json, put);
    json.push(b'}');
}

/// Of an object, keys and values.
type Fields<'a> = Vec<(&'a [u8], &'a [u8])>;

/// The keys, where all are objects with the same ones in the same order, and the
/// fields of each.
fn same_keys<'a>(values: &[&'a Written]) -> Option<(Vec<&'a [u8]>, Vec<Fields<'a>>)> {
    let fields = values.iter().map(|value| value.fields());
    let fields = fields.collect::<Option<Vec<Fields<'_>>>>()?;
    let keys: Vec<&[u8]> = fields.first()?.iter().map(|(key, _)| *key).collect();
    let same = |fields: &Fields<'_>| fields.iter().map(|(key, _)| key).eq(&keys);
    fields.iter().all(same).then_some((keys, fields))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn of(values: &[Value]) -> Value {
        let written = values.iter().map(|value| Written::of(value).unwrap());
        let written: Vec<Written> = written.collect();
        let mut json = Vec::new();
        column(&written.iter().collect::<Vec<_>>(), &mut json);
        serde_json::from_slice(&json).unwrap()
    }

    #[test]
    fn values_of_the_same_keys_are_taken_apart() {
        let one = json!({ "b": 1, "c": { "d": 2, "e": [] } });
        let other = json!({ "b": 3, "c": { "d": 4 } });
        let wanted = json!({ "keys": {
            "b": { "each": [1, 3] },
            "c": { "each": [{ "d": 2, "e": [] }, { "d": 4 }] },
        } });
        assert_eq!(of(&[one, other]), wanted);
        assert_eq!(of(&[json!({})]), json!({ "keys": {} }));
    }

    #[test]
    fn values_of_other_keys_stay_whole() {
        for values in [
            vec![json!({ "a": 1, "b": [{}] }), json!({ "b": 1, "a": 1 })],
            vec![json!({ "a": 1 }), json!({ "a": 1, "b": 2 })],
            vec![json!({ "a": 1 }), Value::Null],
            vec![json!([{ "a": 1 }, 2]), json!("x\ny")],
            vec![],
        ] {
            assert_eq!(of(&values), json!({ "each": values }));
        }
    }
}
