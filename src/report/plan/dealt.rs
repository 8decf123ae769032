//! How the sections that a map has are best dealt out among fewer or more products.

use super::super::blocks::Part;
use super::Basis;
use crate::planning::Room;
use crate::speech::{count, say};

/// How the sections that the map has are best dealt out among fewer or more products.
pub(super) fn products(basis: &Basis<'_>) -> Part {
    let room = &basis.room;
    let now = room.products.len();
    let places = room.products.iter().sum::<usize>() + room.bare;
    let mut part =
        Part::new(say!("The number of products, with as many {units} as the map has", units = basis.units()));
    part.say(say!(
        "{sections}, dealt out so that a product is told {from} best: fewer products leave more {units} to each, and more of them bare.",
        units = basis.units(),
        sections = super::super::names::capital(&count(places, &basis.noun)),
        from = if room.bare == 0 { say!("from another") } else { say!("from bare") }
    ));
    let mut numbers = vec![2, 3, 4, 6, 8, 10, 12, 15, 20, 30, 40];
    numbers.retain(|&number| number != now && number + 2 <= places);
    let heads = [
        say!(">products").to_owned(),
        say!(">{units} each", units = basis.units()),
        say!(">bare {units}", units = basis.units()),
    ];
    let mut table = basis.table(&heads);
    let mut dealt: Vec<(usize, Room, &str)> =
        numbers.iter().filter_map(|&number| Some((number, best(basis, number, places)?, ""))).collect();
    dealt.extend(best(basis, now, places).filter(|best| best != room).map(|best| (now, best, "")));
    dealt.push((now, room.clone(), say!("this plan")));
    dealt.sort_by_key(|(number, ..)| *number);
    for (number, room, mark) in &dealt {
        let each = match (room.products.iter().min(), room.products.iter().max()) {
            (Some(low), Some(high)) if low < high => say!("{low} to {high}", low, high),
            (low, _) => low.copied().unwrap_or(0).to_string(),
        };
        let first = vec![number.to_string().into(), each.into(), room.bare.to_string().into()];
        basis.row(&mut table, first, (room, basis.readings), mark);
    }
    part.table(table);
    part
}

/// So many products on as many sections each, on no more places than there are, with what is left for bare; the number of sections near
/// the one that balances both (Dunnett 1955: as many bare ones as sections of a product times the square root of the products).
fn best(basis: &Basis<'_>, products: usize, places: usize) -> Option<Room> {
    let none_bare = basis.room.bare == 0;
    let figure = |room: &Room| {
        if none_bare { basis.between(room, basis.readings) } else { basis.figure(room, basis.readings) }
    };
    let share = products as f64 + if none_bare { 0.0 } else { (products as f64).sqrt() };
    let middle = (1..places).take_while(|&each| each as f64 * share <= places as f64).last().unwrap_or(1);
    let dealt = (middle.saturating_sub(1).max(1)..=middle + 1).filter_map(|each| {
        let rest = places.checked_sub(each * products)?;
        let room = basis.even(products, each, if none_bare { 0 } else { rest });
        Some((figure(&room)?, room))
    });
    dealt.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, room)| room)
}
