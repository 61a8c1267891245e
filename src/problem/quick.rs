//! temporary
use super::model::*;
use crate::base::*;
use crate::involute::Rack;
use serde_json::Value as V;
fn d(v:&V)->Decimal{Decimal::parse(&v.to_string()).unwrap()}
fn l(v:&V)->Length{Length::from_mm(d(v))}
fn z(v:&V)->Teeth{Teeth::new(v.as_u64().unwrap() as u16)}
pub fn quick(path:&str)->Problem{
 let v:V=serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
 let g=&v["gears"];
 let tol=v.get("default_tolerance_percent").map(d).unwrap_or(Decimal::whole(3));
 let mut ms:Vec<_>=g["modules_mm"].as_array().unwrap().iter().map(|m|Module::metric(d(m))).collect(); ms.sort();
 let c=&v["centre_distance_mm"];
 let cd=if c.is_object(){let f=l(&c["from"]);let t=l(&c["to"]);let s=l(&c["step"]);CentreDistances{from:f,step:s,count:((t.steps()-f.steps())/s.steps()+1) as usize}}else{CentreDistances{from:l(c),step:Length::ZERO,count:1}};
 let hr=&v["head"]["ratio"];
 Problem{title:String::new(),arrangement:if v["arrangement"]=="offset"{Arrangement::Offset}else{Arrangement::InLine},centre_distances:cd,
 gears:Gears{modules:ms,rack:Rack::standard(20.0),helix_angle_deg:g.get("helix_angle_deg").and_then(V::as_f64).unwrap_or(0.0),min_teeth:z(&g["min_teeth"]),max_teeth:z(&g["max_teeth"]),closing:Closing::Tolerance(g.get("centre_tolerance_mm").map(l).unwrap_or(Length::from_steps(1_000_000))),face_width:l(&g["face_width_mm"]),cutting:Cutting::Form},
 head:Head{min:hr.get("min").map(d),max:hr.get("max").map(d),cut:None},
 speeds:v["speeds"].as_array().unwrap().iter().map(|s|Speed{name:s["name"].to_string(),geared:if s["direct"]==V::Bool(true){None}else{Some(Geared{target:d(&s["ratio"]),tolerance_percent:s.get("tolerance_percent").map(d).unwrap_or(tol),cut:None})}}).collect(),
 reverse:v.get("reverse").map(|r|Reverse{target:d(&r["ratio"]),tolerance_percent:r.get("tolerance_percent").map(d).unwrap_or(tol),idler_min:z(&r["idler_teeth"]["min"]),idler_max:z(&r["idler_teeth"]["max"]),clearance:l(&r["clearance_mm"]),cut:None}),
 ranking:Ranking::Balanced,measures:Measure::ALL.to_vec(),fixed:vec![],picked:None,inches:false}
}
