//! The shapes of plain pairs, each worked out once: a pair and its mirror image
//! have one shape, and so have the pairs of all roles.

use crate::base::{Length, Teeth};
use crate::making::Form;
use crate::mesh::{MadePair, Pairs};
use crate::rating::{MeshShape, Rater};
use crate::train::ModuleId;
use rayon::prelude::*;

/// Module, fewer and more teeth.
type Key = (ModuleId, Teeth, Teeth);

/// By key, ascending; none where such gears cannot meet.
#[derive(Debug, Default)]
pub(super) struct Shapes(Vec<(Key, Option<MeshShape>)>);

impl Shapes {
    pub(super) fn of(rater: &Rater<'_>, pairs: &Pairs, centres: Length) -> Self {
        let made = pairs.lists().flat_map(|(_, list)| list);
        let mut keys: Vec<Key> = made.filter(|made| is_plain(made)).map(key).collect();
        keys.sort_unstable();
        keys.dedup();
        let shape = |key: Key| {
            let (module, one, other) = key;
            let made = ([one, other], [Form::PLAIN; 2]);
            let module = module.of(rater.problem());
            (key, rater.shape(module, made, centres.mm()))
        };
        Self(keys.into_par_iter().map(shape).collect())
    }

    /// The shape of a plain pair, itself none where such gears cannot meet;
    /// nothing is known of others.
    #[allow(
        clippy::option_option,
        reason = "not known and cannot be are two answers"
    )]
    pub(super) fn of_pair(&self, made: &MadePair) -> Option<Option<MeshShape>> {
        if !is_plain(made) {
            return None;
        }
        let own = key(made);
        let place = self.0.binary_search_by_key(&own, |(key, _)| *key).ok()?;
        let shape = self.0[place].1;
        let turned = made.pair.driver > made.pair.driven;
        Some(shape.map(|shape| if turned { shape.turned() } else { shape }))
    }
}

fn is_plain(made: &MadePair) -> bool {
    made.forms.iter().all(Form::is_plain)
}

fn key(made: &MadePair) -> Key {
    let pair = made.pair;
    let (fewer, more) = (pair.driver.min(pair.driven), pair.driver.max(pair.driven));
    (pair.module, fewer, more)
}
