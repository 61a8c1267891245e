//! placeholder
fn main() { let f=std::env::args().nth(1).unwrap(); let n=std::env::args().nth(2).map_or(2,|s|s.parse().unwrap()); let (_, p) = layshaft::problem::read(std::path::Path::new(&f)).unwrap(); layshaft::search::probe(&p,n); }
