//! Material: where tubes are coupled, how sticks are cut, and what to load.
//!
//! Plain numbers in, plain data out: nothing here knows a route, a catalog or a page. A tube longer
//! than a stick is divided by [`split`]; a list of pieces is cut from the fewest sticks by [`cut`];
//! [`plan`] does both over a whole job, and says how near to the least possible it came; [`list`]
//! holds the rest of what goes on the truck.

mod cutting;
pub mod list;
mod plan;
mod spans;
mod split;
mod stock;

pub use cutting::{CutError, MOST_PIECES_IN_LIST, PieceRef, Plan, STEPS, StickPlan, cut};
pub use plan::{
    CutPiece, CutStick, CuttingPlan, NamedTube, PlanError, SplitTube, TubePiece, Unsplit, pieces, plan,
};
pub use split::{MOST_ALTERNATIVES, MOST_PIECES, SplitError, TubeToSplit, alternatives, couplings, split};
pub use stock::{LONGEST_STICK_M, SAME_M, Stock, StockError};
