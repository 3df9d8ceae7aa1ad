//! Questions of the week, each answered by one call in words first: run one more event or pull it, what a shock cost,
//! what more speed costs, whether a part can move, whether to buy the spare now. Nothing is stored.
//!
//! They advise: limits of the part's maker, rules of the sanctioning body and findings at the part come before any
//! money, and no answer calls a part safe.

mod alarms;
mod asked;
mod knocked_out;
mod money;
mod obstacles;
mod one_more_event;
mod outlook;
mod overriding;
mod part_move;
mod shock_cost;
mod spare;
mod speed_change;
mod speed_shift;
mod stock;
mod swapped;
mod words;
