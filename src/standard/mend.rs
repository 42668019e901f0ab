//! Kinds of change that may mend a clause, by name.
//!
//! A clause names those that suit it; [`crate::remedy`] makes the changes and tries each one.

/// A kind of change to an inlet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Mend {
    /// The stop moved on along its line, a leg longer, or two opposite legs.
    LongerPath,
    /// Another hose of the catalog.
    OtherHose,
    /// Longer tube between bends that follow each other too soon.
    LongerTubesBetweenBends,
    /// Longer legs where fittings collide.
    LongerTubes,
    /// A leg so much shorter that its tube comes to whole sticks.
    NoStub,
    /// The run that, measured wrong by the miss, would explain it.
    ClosingRun,
    /// An offset laid on the diagonal, at a lesser angle.
    LesserAngles,
    /// The stop set before the last bends.
    EarlierStop,
    /// The catalog's own sweep in place of a fitting that the job names.
    OwnSweep,
    /// An offset at an angle that is stocked.
    StockedAngle,
    /// A dip laid flat.
    FlatDip,
    /// A bore moved to the middle, made smaller, its stud doubled.
    BetterBore,
    /// A gentler junction.
    GentlerJunction,
}
