//! JSON deflated: pieces side by side, one stream.

use flate2::{Compress, Compression, FlushCompress, Status};
use rayon::prelude::*;
use std::io::{self, Write};

/// How hard to pack: more takes longer and gains little.
const LEVEL: u32 = 6;
/// Bytes packed at a time: packing looks back a thirtieth of it.
const PART: usize = 1 << 20;

/// JSON, deflated.
#[derive(Clone, Debug)]
pub struct Packed(Vec<Vec<u8>>);

impl Packed {
    /// Of JSON in pieces, one behind the other.
    pub(super) fn of(pieces: &[Vec<u8>]) -> io::Result<Self> {
        let parts: Vec<&[u8]> = pieces.iter().flat_map(|json| json.chunks(PART)).collect();
        let last = parts.len().saturating_sub(1);
        let packed = parts.par_iter().enumerate();
        let packed = packed.map(|(place, part)| deflated(part, place == last));
        Ok(Self(packed.collect::<io::Result<_>>()?))
    }

    /// Writes the stream.
    pub(super) fn write(&self, to: &mut impl Write) -> io::Result<()> {
        self.0.iter().try_for_each(|part| to.write_all(part))
    }
}

/// Part of a stream that ends on a whole byte, so that parts packed side by side
/// are one stream (RFC 1951: any block may follow a stored one of no length).
fn deflated(part: &[u8], is_last: bool) -> io::Result<Vec<u8>> {
    let flush = if is_last {
        FlushCompress::Finish
    } else {
        FlushCompress::Sync
    };
    let mut packer = Compress::new(Compression::new(LEVEL), false);
    let mut out = Vec::with_capacity(part.len() / 4 + 1024);
    let mut read = 0;
    loop {
        out.reserve(64 * 1024);
        let status = packer
            .compress_vec(&part[read..], &mut out, flush)
            .map_err(io::Error::other)?;
        read = usize::try_from(packer.total_in()).map_err(io::Error::other)?;
        // With room left over there is nothing more to come.
        let flushed = !is_last && read == part.len() && out.len() < out.capacity();
        if flushed || matches!(status, Status::StreamEnd) {
            return Ok(out);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use flate2::read::DeflateDecoder;
    use std::io::Read;

    #[test]
    fn parts_are_one_stream() {
        // Longer than three parts, and hard to pack in places.
        let number = |i: u64| i.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let noise: Vec<String> = (0..160_000).map(|i| number(i).to_string()).collect();
        let noise = noise.join(",").into_bytes();
        let short = vec![b'x'; PART - 2];
        for pieces in [
            vec![b"[".to_vec(), noise, b"]".to_vec()],
            vec![b"[]".to_vec()],
            vec![short.clone(), Vec::new(), short],
        ] {
            let mut bytes = Vec::new();
            Packed::of(&pieces).unwrap().write(&mut bytes).unwrap();
            let mut json = Vec::new();
            DeflateDecoder::new(&bytes[..])
                .read_to_end(&mut json)
                .unwrap();
            assert!(json == pieces.concat());
        }
    }
}
