//! What the rest of the box takes at the least, for every choice of blocks
//! still to come: dynamic programming over subsets.

use super::blocks::Space;
use super::grid::{FAR_NM, Nm};
use super::pieces::{Joining, Standing};
use super::unit::{Frame, Stretch};

/// Length still to come, and the negative of how many gears may still be
/// joined at that length; smaller is better.
pub(super) type Rest = (Nm, i64);

const NEVER: Rest = (FAR_NM, 0);

/// One block behind another.
#[derive(Clone, Copy, Debug)]
struct Link {
    /// From the last unit of the one to the last unit of the other.
    length: Nm,
    /// Gears joined, when the last gear was not, and when it was.
    joins: [i64; 2],
    /// Whether the last gear of the later one is joined.
    joined: bool,
}

/// The least rest by what is left, the block that stands last, and whether its
/// last fixed gear is joined already. Exact where only neighbours have a say,
/// else never too much.
#[derive(Debug)]
pub(super) struct Outlook {
    rest: Vec<[Rest; 2]>,
    variants: usize,
}

/// Gears of the fixed shaft in a way round, from the beginning of its first
/// unit.
pub(super) fn gears_of(space: &Space, frame: &Frame, variant: usize) -> Vec<Standing> {
    let variant = &space.variants[variant];
    let mut all = Vec::new();
    for (&unit, &offset) in variant.units.iter().zip(&variant.offsets) {
        let gears = space.units[unit].fixed(frame);
        all.extend(gears.map(|(gear, _)| gear.shifted(offset)));
    }
    all
}

impl Stretch {
    /// The same further along.
    pub(super) const fn shifted(self, by: Nm) -> Self {
        Self {
            of: self.of,
            from: self.from + by,
            to: self.to + by,
        }
    }
}

impl Outlook {
    pub(super) fn of(space: &Space, frame: &Frame) -> Self {
        let variants = space.variants.len();
        let gears: Vec<_> = (0..variants).map(|v| gears_of(space, frame, v)).collect();
        let link = |from: usize, to: usize| link(space, frame, (from, to), &gears);
        let links: Vec<Vec<Option<Link>>> = (0..variants)
            .map(|from| (0..variants).map(|to| link(from, to)).collect())
            .collect();
        let mut outlook = Self {
            rest: Vec::new(),
            variants,
        };
        for left in 0..1_usize << space.blocks.len() {
            for (from, links) in links.iter().enumerate() {
                let rest = [false, true].map(|joined| outlook.least(space, left, joined, links));
                let last = space.variants[from].units.last();
                let tail = last.map_or(FAR_NM, |&unit| space.tails[unit]);
                outlook
                    .rest
                    .push(if left == 0 { [(tail, 0); 2] } else { rest });
            }
        }
        outlook
    }

    fn least(&self, space: &Space, left: usize, joined: bool, links: &[Option<Link>]) -> Rest {
        let mut least = NEVER;
        for (block, ways) in space.blocks.iter().enumerate() {
            if left & (1 << block) == 0 {
                continue;
            }
            for &to in ways {
                if let Some(link) = links[to] {
                    let rest = self.rest(left & !(1 << block), to, link.joined);
                    let joins = link.joins[usize::from(joined)];
                    least = least.min((rest.0 + link.length, rest.1 - joins));
                }
            }
        }
        least
    }

    /// From the beginning of the last unit of `variant` to the output wall.
    pub(super) fn rest(&self, left: usize, variant: usize, joined: bool) -> Rest {
        self.rest[left * self.variants + variant][usize::from(joined)]
    }
}

fn link(
    space: &Space,
    frame: &Frame,
    (from, to): (usize, usize),
    gears: &[Vec<Standing>],
) -> Option<Link> {
    let one = &space.variants[from];
    let other = &space.variants[to];
    let need = space.needs[*one.units.last()?][*other.units.first()?]?;
    let begun = *one.offsets.last()?;
    let last = gears[from].last().map(|gear| gear.shifted(-begun));
    let join = |last_joined: bool| {
        let mut joining = Joining {
            count: 0,
            last,
            last_joined,
        };
        for gear in &gears[to] {
            joining.add(frame, gear.shifted(need));
        }
        joining
    };
    let both = [join(false), join(true)];
    Some(Link {
        length: need + other.offsets.last()?,
        joins: both.map(|joining| joining.count),
        joined: both[0].last_joined,
    })
}
