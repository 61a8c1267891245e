//! What each gear is made of.

use super::workshop::twice;
use super::{optional, speeds};
use crate::base::Decimal;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::layout::ReverseForm;
use crate::problem::materials::{Class, HARDENING, Material, Materials, ROWS};
use crate::problem::model::{Reverse, Speed};
use crate::problem::suggest;

/// Most names that are offered for one that is unknown.
const OFFERED: usize = 3;

/// The materials of all gears.
pub(super) fn materials(
    root: &Item,
    list: Option<&[Speed]>,
    reverse: Option<&Reverse>,
    log: &mut Log,
) -> Option<Materials> {
    let mut shelf = Shelf {
        own: own(root, log),
        sound: true,
        told: Vec::new(),
    };
    let gears = root.get("gears").and_then(|gears| gears.get("material"));
    let usual = match gears {
        Some(item) => shelf.named(item, log),
        None => shelf.usual(root),
    };
    let head = shelf.pair(root.get("head"), usual.as_ref(), log);
    let entries = root.get("speeds").and_then(Item::list).unwrap_or_default();
    let all: Vec<_> = entries
        .iter()
        .filter(|entry| !speeds::is_direct(entry))
        .map(|entry| shelf.pair(Some(entry), usual.as_ref(), log))
        .collect();
    let item = root.get("reverse");
    let outer = shelf.pair(item, usual.as_ref(), log);
    let idler = shelf.one(item, "idler_material", usual.as_ref(), log);
    let shared = reverse.is_some_and(|reverse| reverse.form == ReverseForm::SharedDriver);
    if shared {
        no_driver_of_its_own(item, log);
    }
    if !shelf.sound {
        return None;
    }
    let (usual, head, [driver, driven]) = (usual?, head?, outer?);
    // Speeds that a law spaces have no entries in the file.
    let plain = || [usual.clone(), usual.clone()];
    let geared = list?.iter().filter(|speed| speed.geared.is_some()).count();
    let mut speeds: Vec<[Material; 2]> = all.into_iter().collect::<Option<_>>()?;
    speeds.resize_with(geared, plain);
    Some(Materials {
        given: gears.is_some(),
        head,
        speeds,
        reverse: [driver, idler?, driven],
    })
}

/// Materials by name.
struct Shelf {
    /// Those of the file.
    own: Option<Vec<Material>>,
    /// Whether every name so far was known.
    sound: bool,
    /// Where unknown names stood: a role's word serves several gears, and is
    /// told of once.
    told: Vec<String>,
}

impl Shelf {
    /// What gears are made of where the file names nothing for them.
    fn usual(&self, root: &Item) -> Option<Material> {
        let stock = root
            .get("workshop")
            .and_then(|item| item.get("gear_material"));
        let stock = stock.and_then(Item::text).and_then(|name| self.find(name));
        stock.or_else(|| Material::known(Material::USUAL))
    }

    fn find(&self, name: &str) -> Option<Material> {
        let mut own = self.own.iter().flatten();
        let own = own.find(|material| material.name == name).cloned();
        own.or_else(|| Material::known(name))
    }

    /// The material that a value names; a fault where there is none.
    fn named(&mut self, item: &Item, log: &mut Log) -> Option<Material> {
        let found = item.text().and_then(|name| self.find(name));
        self.sound &= found.is_some();
        // With faults among the file's own rows nobody knows what is missing.
        let first = found.is_none() && !self.told.contains(&item.path);
        if let (true, Some(name), Some(own)) = (first, item.text(), &self.own) {
            self.told.push(item.path.clone());
            let names = own.iter().map(|material| material.name.as_str());
            let names: Vec<&str> = ROWS.iter().map(|row| row.name).chain(names).collect();
            let what = format!("there is no material \"{name}\"");
            log.add(&item.span, &item.path, what, offer(name, &names));
        }
        found
    }

    /// Driver and driven gear of a role.
    fn pair(
        &mut self,
        role: Option<&Item>,
        usual: Option<&Material>,
        log: &mut Log,
    ) -> Option<[Material; 2]> {
        let driver = self.one(role, "driver_material", usual, log);
        let driven = self.one(role, "driven_material", usual, log);
        Some([driver?, driven?])
    }

    fn one(
        &mut self,
        role: Option<&Item>,
        key: &str,
        usual: Option<&Material>,
        log: &mut Log,
    ) -> Option<Material> {
        let own = role.and_then(|role| role.get(key).or_else(|| role.get("material")));
        match own {
            Some(item) => self.named(item, log),
            None => usual.cloned(),
        }
    }
}

/// The file's own rows; none when one is faulty.
fn own(root: &Item, log: &mut Log) -> Option<Vec<Material>> {
    let Some(list) = root.get("materials") else {
        return Some(Vec::new());
    };
    let items = list.list()?;
    let rows: Vec<Option<Material>> = items.iter().map(row).collect();
    let named = || {
        let rows = items.iter().zip(&rows);
        rows.filter_map(|(item, row)| Some((row.as_ref()?.name.clone(), item)))
    };
    let what = |name: &String| format!("there is a material \"{name}\" already");
    twice(named(), what, "give it another name", log);
    for (name, item) in named().filter(|(name, _)| Material::known(name).is_some()) {
        let next = "give yours another name".to_owned();
        let what = format!("\"{name}\" is a name of the program's own table");
        log.add(&item.span, &item.path, what, next);
    }
    rows.into_iter().collect()
}

fn row(item: &Item) -> Option<Material> {
    let case_hardened = item.get("case_hardened")?.flag()?;
    let number = |name| Some(item.get(name)?.number()?.to_f64());
    Some(Material {
        name: item.get("name")?.text()?.to_owned(),
        class: Class::Own,
        hardness: None,
        bending_mpa: number("bending_mpa")?,
        contact_mpa: number("contact_mpa")?,
        youngs_gpa: number("youngs_gpa")?,
        poisson: number("poisson")?,
        yield_mpa: optional(item.get("yield_mpa"), Item::number)?.map(Decimal::to_f64),
        note: if case_hardened { HARDENING } else { "" },
        case_hardened,
    })
}

/// The names most like it, and all there are.
fn offer(name: &str, names: &[&str]) -> String {
    let all = format!("\"{}\"", names.join("\", \""));
    let wanted = name.to_lowercase();
    let within = |known: &&&str| !wanted.is_empty() && known.to_lowercase().contains(&wanted);
    let mut near: Vec<&str> = names.iter().filter(within).copied().collect();
    near.truncate(OFFERED);
    let alike = || suggest::nearest(name, names.iter().map(|&known| known.to_owned()));
    match (near.is_empty(), alike()) {
        (false, _) => format!(
            "did you mean \"{}\"? There are {all}",
            near.join("\" or \"")
        ),
        (true, Some(near)) => format!("did you mean \"{near}\"? There are {all}"),
        (true, None) => format!("there are {all}; describe others in \"materials\""),
    }
}

/// A driver that reverse shares is described with its speed.
fn no_driver_of_its_own(reverse: Option<&Item>, log: &mut Log) {
    if let Some(item) = reverse.and_then(|reverse| reverse.get("driver_material")) {
        let what = "reverse has no driving gear of its own".to_owned();
        let next = "say it with the speed that shares its driver, or remove this key".to_owned();
        log.add(&item.span, &item.path, what, next);
    }
}
