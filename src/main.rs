fn main() { let f=std::env::args().nth(1).unwrap(); let n=std::env::args().nth(2).map_or(2,|s|s.parse().unwrap()); layshaft::search::probe(&layshaft::problem::quick::quick(&f),n); }
