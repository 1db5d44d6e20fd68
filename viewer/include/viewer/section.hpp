// A level section through one fitting, true to scale: what is shown as plain data, and how it is put on paper.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "modeler/model.hpp"
#include "modeler/parts.hpp"
#include "rules/finding.hpp"

typedef struct _cairo cairo_t;

namespace standproud::viewer {

/// One cut solid, in the wall's (u, n), mm.
struct SectionPiece {
    std::string name;         ///< in words
    std::string layer;        ///< as Part::layer: sets hatch, weight, colour
    bool of_fitting = false;  ///< belongs to the fitting shown
    Polygon outline;
};

/// Where the judged quantity of the main finding lies along n: from `from`, in `direction` (1 or -1), as far
/// as the finding's nominal. Its other end must come to rest between need_low and need_high from `from`.
struct JudgedLine {
    std::size_t finding = 0;  ///< index into SectionDrawing::findings
    double from = 0;
    double direction = 1;
};

/// Everything a section shows; the sheet and the window draw the same data.
struct SectionDrawing {
    std::string title;  ///< the fitting, in words
    std::string job;
    std::string revision;
    std::string wall;
    std::string position;  ///< where it is: both corners bare and finished, height above datum
    std::string datum;     ///< what level 0 is, in words
    double u = 0;          ///< the axis of the section: the fitting's, or that of the one screw that was judged
    double v = 0;
    bool one_of_several = false;      ///< it is one screw of several: the section shows only what is near it
    double face = 0;                  ///< F at the axis
    std::optional<double> seat;       ///< n of the seat
    std::vector<LayerAtSpot> layers;  ///< at the axis, from the bare face out; points into the model's job
    std::vector<SectionPiece> pieces;
    std::vector<rules::Finding> findings;  ///< of this fitting, worst first
    std::optional<JudgedLine> judged;      ///< of the worst reach finding, if it has a number
};

/// `parts` are all the parts of the model; the drawing points into `model`, which must outlive it.
SectionDrawing section_of(const Model& model, const std::vector<Part>& parts,
                          const std::vector<rules::Finding>& findings, std::size_t placed_fitting);

/// Draws one A4 landscape sheet, 297 x 210 mm. The context's units must be mm, y down, origin top left.
void draw_section(cairo_t* context, const SectionDrawing& drawing);

/// Writes stem.pdf, stem.svg and stem.png (each whole or not at all; the same drawing gives the same bytes).
/// Returns the files. Throws std::runtime_error naming the path.
std::vector<std::filesystem::path> write_section(const SectionDrawing& drawing, const std::filesystem::path& stem);

}  // namespace standproud::viewer
