//! How sets are measured and ranked, and what may not be changed.

use crate::problem::fault::{Log, shown};
use crate::problem::item::Item;
use crate::problem::model::{Measure, Ranking, safety_last};
use crate::problem::path;

pub(super) fn ranking(root: &Item) -> Option<Ranking> {
    let word = root.get("ranking")?.word()?;
    Ranking::ALL.into_iter().find(|by| by.word() == word)
}

pub(super) fn measures(root: &Item, log: &mut Log) -> Option<Vec<Measure>> {
    let items = root.get("measures")?.list()?;
    let mut measures = Vec::new();
    for item in items {
        let named = |m: &Measure| item.word() == Some(m.word());
        let Some(measure) = Measure::ALL.into_iter().find(named) else {
            continue;
        };
        if measures.contains(&measure) {
            let what = format!("\"{}\" is in the list already", measure.word());
            log.add(
                &item.span,
                &item.path,
                what,
                "keep one of the two".to_owned(),
            );
        } else {
            measures.push(measure);
        }
    }
    Some(safety_last(measures))
}

pub(super) fn fixed(root: &Item, log: &mut Log) -> Option<Vec<String>> {
    let Some(item) = root.get("fixed") else {
        return Some(Vec::new());
    };
    let mut keys = Vec::new();
    for item in item.list()? {
        let Some(text) = item.text() else {
            continue;
        };
        match path::canonical(text) {
            Ok(key) => keys.push(key),
            Err(next) => {
                let what = format!("\"{}\" is not a key of this file", shown(text));
                log.add(&item.span, &item.path, what, next);
            }
        }
    }
    // Speeds that a fixed law gives are fixed with it.
    if root.get("spacing").is_some() && keys.iter().any(|key| key.starts_with("spacing")) {
        keys.push("speeds".to_owned());
    }
    Some(keys)
}
