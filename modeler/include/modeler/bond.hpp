// Bond and seal: tape strips, adhesive beads, rings, joint sealant, spacers and paint, with their places, lengths and
// volumes. Plain values in, plain values out.
//
// Places are in the panel's own frame, seen from the front: x to the right, y up, mm. They are put on the rear; the
// cutting module turns them over. Volumes mm3; 1 ml is 1000 mm3. All figures are without waste unless they say so.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/geometry.hpp"

namespace standproud::bond {

/// Defaults marked "c.p." are common practice, no source; the others are the job's to set.
struct BondRules {
    double tape_spacing = 300;    ///< mm, strips are at most this far apart, middle to middle (c.p. about 300)
    double tape_width = 12;       ///< mm
    double tape_inset = 20;       ///< mm from the panel's edges to the tape's edge
    double tape_clear = 20;       ///< mm from a hole to the tape's edge: room for the ring
    double tape_shift_most = 50;  ///< mm a strip may be moved to miss the holes; else it is broken at them
    double tape_shortest = 50;    ///< mm, shorter bits are left out
    double bead = 6;              ///< mm, diameter of the adhesive bead (c.p.)
    double bead_clear = 10;       ///< mm from the bead to the tape, the ring and the panel's edge
    double wave_length = 200;     ///< mm up the panel for a whole wave
    double wave_widest = 60;      ///< mm, at most, that the wave swings to either side
    double ring_offset = 8;       ///< mm from a hole's edge to the middle of its ring
    double spacer_spacing = 400;  ///< mm, spacers under the base at most this far apart
    double spacer_inset = 50;     ///< mm from the base's ends
};

/// An upright strip, or a bit of one.
struct TapeStrip {
    double x = 0;  ///< its middle
    double from = 0;
    double to = 0;
    std::size_t strip = 0;  ///< bits of one strip have the same number
    double moved = 0;       ///< mm from where it would be without holes
};

/// A wave of adhesive, or a bit of one, as the middle of the bead. In a leg, which would else hold tape but no
/// adhesive, it is straight.
struct Bead {
    std::vector<Vec2> path;
    double length = 0;     ///< mm
    std::size_t lane = 0;  ///< between strips `lane` and `lane` + 1; of a leg nothing
    bool in_leg = false;
};

/// A leg, or a stretch of one, without adhesive: the strip of panel beside a notch, as far as the panel's edge or the
/// next notch.
struct DryLeg {
    double left = 0;  ///< where it is narrowest
    double right = 0;
    double bottom = 0;
    double top = 0;
    bool taped = false;  ///< it holds tape, but no bead fits beside it; else it holds neither
};

struct Ring {
    std::size_t hole = 0;
    RoundedRect path;      ///< the middle of the bead
    double length = 0;     ///< mm, closed form
    bool reduced = false;  ///< nearer to the hole than asked, to stay on the panel
};

struct PanelBond {
    std::vector<TapeStrip> tape;
    std::vector<Bead> beads;
    std::vector<Ring> rings;
    std::vector<DryLeg> dry;
    std::vector<double> spacers;  ///< x along the base edge's lowest line
    double tape_length = 0;       ///< mm
    double bead_length = 0;       ///< mm, without the rings
    double leg_length = 0;        ///< mm, of bead_length what is straight in legs
    double ring_length = 0;       ///< mm
    double adhesive_volume = 0;   ///< mm3, beads and rings: pi/4 bead^2 x length
    double scuffed_area = 0;      ///< mm2 of the rear to scuff or prime: the panel less its holes
    double thinnest_lane = 0;     ///< mm between neighbouring tapes' edges
    double widest_spacing = 0;    ///< mm between the middles of neighbouring strips, after moving
};

struct BondAnswer {
    std::optional<PanelBond> bond;
    std::string refused;
};

/// `notches` reach over the outline's edge: tape and beads keep as far from them as from the panel's edges. A leg
/// beside a notch that holds tape, but at no height within a whole wave any adhesive, gets a straight bead wherever
/// `bead_clear` is kept between tape and edges; legs shorter than `tape_shortest` or narrower than a bead are passed
/// over (chosen by this program, no source). Must hold: outline convex and anticlockwise, holes inside it.
[[nodiscard]] BondAnswer lay_bond(const Polygon& outline, const std::vector<RoundedRect>& holes, const BondRules& rules,
                                  const std::vector<RoundedRect>& notches = {});

/// A gap to seal.
struct Joint {
    std::string name;
    double gap = 0;     ///< mm
    double depth = 0;   ///< mm from the panel's face to what is behind it
    double length = 0;  ///< mm
};

struct JointSeal {
    double sealed_depth = 0;    ///< mm
    double backing_length = 0;  ///< mm of backing, 0 where the gap is not deep
    double volume = 0;          ///< mm3: gap x sealed depth x length
};

/// A gap deeper than `deepest` gets backing, and sealant of that depth on it.
[[nodiscard]] JointSeal seal_joint(const Joint& joint, double deepest);

/// What is bought of something that comes in units: cartridges of sealant or adhesive (mm3), rolls of tape (mm).
struct Purchase {
    double needed = 0;      ///< without waste
    double waste = 0;       ///< the allowance, in the same unit
    double with_waste = 0;  ///< needed + waste
    int units = 0;          ///< whole ones; exactly full is full
    double left_over = 0;   ///< in the last unit
};

/// Must hold: unit > 0, allowance >= 0 (0.1 is 10 %).
[[nodiscard]] Purchase buy(double needed, double unit, double allowance);

/// The strip of wall to paint near the panel's colour behind a join that is sealed clear, in the wall's (u, v).
struct PaintStrip {
    double from = 0;
    double to = 0;
    double bottom = 0;
    double top = 0;
    double area = 0;  ///< mm2
};

/// `beyond` mm on either side of the gap.
[[nodiscard]] PaintStrip paint_behind(double join, double gap, double bottom, double top, double beyond);

}  // namespace standproud::bond
