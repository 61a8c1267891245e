//! The files as two readers in Python take them: ezdxf and trimesh
//! (`reader.py`).

use super::Drawn;
use super::solids::volumes;
use crate::front_door::Run;
use crate::python::answer;
use layshaft::export::{DrawingRecord, dxf};
use layshaft::problem::Side;
use layshaft::sheet::Views;
use serde_json::{Value, json};

const MODULES: [&str; 4] = ["ezdxf", "trimesh", "networkx", "lxml"];

#[test]
fn cad_and_mesh_readers_take_every_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut asked = Vec::new();
    for sample in ["shunter", "walking-tractor"] {
        let of = Drawn::sample(sample);
        let views = of.with_plan(|plan| Views::new(&of.problem, &of.set, plan));
        let drawings = ["neutral", "reverse"].map(|state| {
            let still = views.end.still(state, Side::Left);
            json!({ "json": DrawingRecord(&still), "dxf": dxf(&still) })
        });
        asked.push(json!({ "drawings": drawings }));
    }
    // Files of one are enough: reading bodies takes its time.
    let into = folder.path().to_str().unwrap();
    let args = ["draw", "problems/shunter.json", "--into", into];
    Run::of(&args).ends().with(0);
    asked[0]["folder"] = json!(into);
    let Some(told) = answer::<Vec<Value>>("drawing/reader.py", &MODULES, &json!(asked)) else {
        return;
    };
    for told in &told {
        assert_eq!(told["faults"], json!([]));
        assert!(told["coordinates"].as_u64().unwrap() > 1000, "{told}");
    }
    assert!(told[0]["bodies_in_place"].as_u64().unwrap() > 20);
    let read = told[0]["gears_mm3"].as_object().unwrap();
    let volumes = volumes(&Drawn::sample("shunter"));
    assert_eq!(read.len(), volumes.len(), "{read:?}");
    for (name, volume) in volumes {
        let stem = format!("gear-{}", name.replace(", ", "-"));
        let off = read[&stem].as_f64().unwrap() / volume - 1.0;
        assert!(off.abs() < 0.01, "{name}: {off}");
    }
}
