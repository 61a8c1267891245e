//! Records that are much alike, laid out so that alike parts stand together:
//! packed so they take a third of the room.

use serde_json::{Map, Value};

/// So deep are records taken apart.
const DEEP: usize = 2;

/// A list of records as columns: `{"each": [...]}`, or where all have the same
/// keys `{"keys": {key: columns}}`.
pub(super) fn columns(records: Vec<Value>) -> Value {
    taken_apart(records, DEEP)
}

fn taken_apart(records: Vec<Value>, deep: usize) -> Value {
    if deep == 0 || !same_keys(&records) {
        return wrapped("each", Value::Array(records));
    }
    let mut by_key: Map<String, Value> = Map::new();
    let mut lists: Vec<(String, Vec<Value>)> = Vec::new();
    for record in records {
        let Value::Object(fields) = record else {
            continue;
        };
        for (place, (key, value)) in fields.into_iter().enumerate() {
            match lists.get_mut(place) {
                Some((_, list)) => list.push(value),
                None => lists.push((key, vec![value])),
            }
        }
    }
    for (key, list) in lists {
        by_key.insert(key, taken_apart(list, deep - 1));
    }
    wrapped("keys", Value::Object(by_key))
}

/// `{key: value}`; `json!` would copy the value.
fn wrapped(key: &str, value: Value) -> Value {
    let mut out = Map::new();
    out.insert(key.to_owned(), value);
    Value::Object(out)
}

/// Whether all are objects with the same keys in the same order.
fn same_keys(records: &[Value]) -> bool {
    let Some(Value::Object(first)) = records.first() else {
        return false;
    };
    records.iter().all(|record| {
        record
            .as_object()
            .is_some_and(|fields| fields.keys().eq(first.keys()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn records_of_the_same_keys_are_taken_apart_two_deep() {
        let one = json!({ "a": { "b": 1, "c": { "d": 2 } }, "e": [1] });
        let other = json!({ "a": { "b": 3, "c": { "d": 4 } }, "e": [2] });
        let wanted = json!({ "keys": {
            "a": { "keys": {
                "b": { "each": [1, 3] },
                "c": { "each": [{ "d": 2 }, { "d": 4 }] },
            } },
            "e": { "each": [[1], [2]] },
        } });
        assert_eq!(columns(vec![one, other]), wanted);
    }

    #[test]
    fn records_of_other_keys_stay_whole() {
        let records = vec![json!({ "a": 1 }), json!({ "b": 1 })];
        assert_eq!(columns(records.clone()), json!({ "each": records }));
        let records = vec![json!({ "a": 1 }), Value::Null];
        assert_eq!(columns(records.clone()), json!({ "each": records }));
    }
}
