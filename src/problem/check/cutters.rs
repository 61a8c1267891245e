//! The cutters that the workshop names.

use super::optional;
use super::workshop::twice;
use crate::base::Module;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::workshop::{CutterPrice, CutterState, FORM_CUTTERS, WhichCutter};

/// Which cutters an entry means, each with the value of the file that says so.
type Meant<'a> = Vec<(WhichCutter, &'a Item)>;

/// Every cutter that a list names, in its order; none where one is faulty.
pub(super) fn cutters(list: Option<&Item>, log: &mut Log) -> Option<Vec<CutterPrice>> {
    let Some(list) = list else {
        return Some(Vec::new());
    };
    let mut sound = true;
    let mut all = Vec::new();
    for entry in list.list()? {
        let named = entry_cutters(entry, log);
        sound &= named.is_some();
        all.extend(named.unwrap_or_default());
    }
    let named = all.iter();
    let named = named.map(|(cutter, item)| ((cutter.module, cutter.which), *item));
    let what = |(module, which): &(Module, WhichCutter)| {
        format!("{} is in the list already", said(*module, *which))
    };
    twice(named, what, "keep one of the two", log);
    sound.then(|| all.into_iter().map(|(cutter, _)| cutter).collect())
}

/// The cutters of one entry.
fn entry_cutters<'a>(entry: &'a Item, log: &mut Log) -> Option<Vec<(CutterPrice, &'a Item)>> {
    let module = module(entry, log);
    let meant = meant(entry, log);
    let state = state(entry, log);
    let (module, state) = (module?, state?);
    let one = |(which, item)| {
        let cutter = CutterPrice {
            module,
            which,
            state,
        };
        (cutter, item)
    };
    Some(meant?.into_iter().map(one).collect())
}

fn module(entry: &Item, log: &mut Log) -> Option<Module> {
    let own = |name| entry.get(name).map(Item::number);
    match (own("module_mm"), own("diametral_pitch")) {
        (Some(mm), _) => Some(Module::metric(mm?)),
        (None, Some(pitch)) => Some(Module::from_diametral_pitch(pitch?)),
        (None, None) => {
            let what = "module_mm or diametral_pitch is missing".to_owned();
            let next = "add the one that is engraved on the cutter".to_owned();
            log.add(&entry.span, &entry.path, what, next);
            None
        }
    }
}

fn meant<'a>(entry: &'a Item, log: &mut Log) -> Option<Meant<'a>> {
    let mut all = Meant::new();
    if let Some(list) = entry.get("numbers") {
        for item in list.list()? {
            all.push((WhichCutter::Form(u8::try_from(item.whole()?).ok()?), item));
        }
    }
    if let Some(range) = entry.get("teeth") {
        all.push((engraved(range, log)?, range));
    }
    if let Some(list) = entry.get("own_teeth") {
        for item in list.list()? {
            all.push((WhichCutter::Own(item.teeth()?), item));
        }
    }
    for (name, which) in [("set", WhichCutter::FormSet), ("tool", WhichCutter::Tool)] {
        if let Some(item) = entry.get(name) {
            yes(item, log)?;
            all.push((which, item));
        }
    }
    Some(all)
}

/// The form cutter of a range, which must be one of the eight.
fn engraved(range: &Item, log: &mut Log) -> Option<WhichCutter> {
    let ends: Option<Vec<u32>> = range
        .list()?
        .iter()
        .map(|end| Some(end.teeth()?.get()))
        .collect();
    let ends = ends?;
    let is = |&(_, least, most): &(u8, u32, Option<u32>)| match (&ends[..], most) {
        ([from], None) => *from == least,
        ([from, to], Some(most)) => (*from, *to) == (least, most),
        _ => false,
    };
    if let Some((number, ..)) = FORM_CUTTERS.into_iter().find(is) {
        return Some(WhichCutter::Form(number));
    }
    let what = "this is the range of none of the eight form cutters".to_owned();
    let written = FORM_CUTTERS.map(|(_, least, most)| match most {
        Some(most) => format!("[{least}, {most}]"),
        None => format!("[{least}]"),
    });
    let next = format!("write one of {}", written.join(", "));
    log.add(&range.span, &range.path, what, next);
    None
}

/// At hand, or the price.
fn state(entry: &Item, log: &mut Log) -> Option<CutterState> {
    let price = optional(entry.get("price"), Item::number)?;
    match (entry.get("owned"), price) {
        (Some(owned), _) => {
            yes(owned, log)?;
            Some(CutterState::AtHand)
        }
        (None, Some(price)) => Some(CutterState::Costs(price)),
        (None, None) => {
            let what = "owned or price is missing".to_owned();
            let next = "add \"owned\": true, or the price".to_owned();
            log.add(&entry.span, &entry.path, what, next);
            None
        }
    }
}

/// A flag that says something only when it is true.
fn yes(item: &Item, log: &mut Log) -> Option<()> {
    if item.flag()? {
        return Some(());
    }
    let what = "false says nothing here".to_owned();
    let next = "write true, or leave the key out".to_owned();
    log.add(&item.span, &item.path, what, next);
    None
}

/// A cutter as a message names it.
fn said(module: Module, which: WhichCutter) -> String {
    let which = match which {
        WhichCutter::Form(number) => format!("form cutter No. {number}"),
        WhichCutter::FormSet => "the set of form cutters".to_owned(),
        WhichCutter::Own(teeth) => format!("the own form cutter for {teeth} teeth"),
        WhichCutter::Tool => "the tool".to_owned(),
    };
    match module.pitch() {
        Some(pitch) => format!("{which} of diametral pitch {pitch}"),
        None => format!("{which} of module {}", module.mm()),
    }
}
