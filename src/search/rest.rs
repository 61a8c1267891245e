//! Partial choices under one head, and what must still come to each of them.

use super::head::Choice;
use super::mask::Mask;
use super::reverses::Piece;

/// A partial choice: the roles merged so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct State<M> {
    pub(super) mask: M,
    pub(super) level: u32,
    pub(super) volume: u64,
    /// Place of the state it grew from, and of the choice added.
    pub(super) parent: u32,
    pub(super) place: u32,
    /// Place of the first reverse piece that fits beside it, or one before.
    pub(super) piece: u32,
}

/// What is still to be chosen behind partial choices.
pub(super) struct Rest<'a, M> {
    /// The choices of each role, by rising volume.
    pub(super) roles: Vec<&'a [Choice<M>]>,
    /// The reverse pieces, by rising volume, where reverse is asked for.
    pub(super) pieces: Option<&'a [Piece<M>]>,
    /// The least volume of those that fit beside the head.
    pub(super) least_reverse: u64,
}

impl<M: Mask> Rest<'_, M> {
    /// Partial choices, by rising masks, less those that what fits beside their
    /// own needs brings above the caps.
    pub(super) fn thin(
        &self,
        layer: &[State<M>],
        room: &[u64],
        caps: &[u64],
        fits: &dyn Fn(M) -> bool,
    ) -> Vec<State<M>> {
        let mut kept = Vec::new();
        for alike in layer.chunk_by(|x, y| x.mask == y.mask) {
            let fits = |mask: M| fits(mask.union(alike[0].mask));
            let Some(roles) = self.least_of_roles(&fits) else {
                continue;
            };
            // What reverse must stay below.
            let spare = |state: &State<M>| {
                let (room, cap) = (room[state.level as usize], caps[state.level as usize]);
                let beside_roles = cap.saturating_sub(state.volume + roles);
                let room = room.saturating_sub(state.volume);
                beside_roles.min(room.saturating_add(self.least_reverse))
            };
            let most = alike.iter().map(spare).max().unwrap_or(0);
            let Some((piece, volume)) = self.least_reverse(alike[0].piece, most, &fits) else {
                continue;
            };
            let hopeful = alike.iter().filter(|state| volume < spare(state));
            kept.extend(hopeful.map(|state| State { piece, ..*state }));
        }
        kept
    }

    /// The least volume of all roles that fits; none where nothing does.
    fn least_of_roles(&self, fits: &dyn Fn(M) -> bool) -> Option<u64> {
        let least = |role: &&[Choice<M>]| {
            let first = role.iter().find(|choice| fits(choice.mask));
            first.map(|choice| choice.volume)
        };
        self.roles.iter().map(least).sum()
    }

    /// The first reverse piece that fits and its volume, no piece before `from`
    /// does; none where it is not below `most`.
    fn least_reverse(&self, from: u32, most: u64, fits: &dyn Fn(M) -> bool) -> Option<(u32, u64)> {
        let Some(pieces) = self.pieces else {
            return (most > 0).then_some((0, 0));
        };
        let coming = (from..).zip(&pieces[from as usize..]);
        let mut small = coming.take_while(|(_, piece)| piece.volume < most);
        let (place, piece) = small.find(|(_, piece)| fits(piece.mask))?;
        Some((place, piece.volume))
    }
}
