// A sheet of paper in millimetres: lines, outlines and text that always fits its box.
// The sheet remembers where text, straight lines and dimensions went, so that placement can avoid what is
// there already and tests can check the whole page.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "modeler/geometry.hpp"

typedef struct _cairo cairo_t;
typedef struct _PangoContext PangoContext;

namespace standproud::viewer {

/// Line widths on paper, mm: outlines of what is judged, other outlines, thin lines.
inline constexpr double heavy = 0.5;
inline constexpr double medium = 0.35;
inline constexpr double thin = 0.18;

/// On paper, mm, y down.
struct Rect {
    double x = 0;
    double y = 0;
    double width = 0;
    double height = 0;

    [[nodiscard]] double right() const { return x + width; }
    [[nodiscard]] double bottom() const { return y + height; }
    [[nodiscard]] Vec2 centre() const { return {x + width / 2, y + height / 2}; }
};

/// The common area is larger than a hair.
bool overlap(const Rect& a, const Rect& b);
/// Does the segment from a to b pass through the inside of the box?
bool crosses(const Rect& box, Vec2 a, Vec2 b);

struct Ink {
    double red = 0;
    double green = 0;
    double blue = 0;
};
inline constexpr Ink black{0, 0, 0};
inline constexpr Ink white{1, 1, 1};
inline constexpr Ink grey{0.45, 0.45, 0.45};

enum class Dash { solid, centre, datum, dashed };
enum class Align { left, centre, right };
enum class Stand { top, middle };

struct LetterStyle {
    double size = 2.8;   ///< of the em, mm
    double least = 2.1;  ///< shrink no further than this; then cut off with dots
    bool bold = false;
    Align align = Align::left;
    Stand stand = Stand::top;
    bool upwards = false;        ///< read from the right-hand side of the sheet
    std::size_t bold_bytes = 0;  ///< so many bytes at the start are bold; of valid text, and whole letters
    Ink ink = black;
};

struct PlacedText {
    std::string text;
    Rect box;
};

struct PlacedLine {
    Vec2 from;
    Vec2 to;
};

struct PlacedDimension {
    Vec2 from;
    Vec2 to;
    double value = 0;  ///< what it measures, mm in the wall
};

/// The context's units must be mm, y down, origin at the sheet's top left.
class Sheet {
  public:
    static constexpr double width = 297;
    static constexpr double height = 210;

    explicit Sheet(cairo_t* context);

    [[nodiscard]] cairo_t* context() const { return context_; }
    [[nodiscard]] const std::vector<PlacedText>& texts() const { return texts_; }
    [[nodiscard]] const std::vector<PlacedLine>& lines() const { return lines_; }
    [[nodiscard]] const std::vector<PlacedDimension>& dimensions() const { return dimensions_; }

    void line(Vec2 from, Vec2 to, double line_width, Dash dash = Dash::solid);
    /// The four sides of a box.
    void frame(const Rect& box, double line_width);
    void fill(const std::vector<Vec2>& outline, Ink ink);
    void outline(const std::vector<Vec2>& outline, double line_width, Ink ink = black, Dash dash = Dash::solid);
    void dot(Vec2 centre, double diameter, Ink ink = black);
    /// An arrow head with its tip at `tip`, pointing along `direction` (of length 1).
    void arrow(Vec2 tip, Vec2 direction);

    /// Puts the text into the box: at its size if it fits, else wrapped and smaller, else cut off with dots.
    /// Returns the box that the text itself fills. Empty text places nothing.
    Rect text(const std::string& words, const Rect& box, const LetterStyle& style = {});
    /// The size of the text, wrapped to a width, at its full size.
    [[nodiscard]] Vec2 measure(const std::string& words, double wrap_width, const LetterStyle& style = {}) const;

    /// Nothing recorded so far is in this box.
    [[nodiscard]] bool is_free(const Rect& box) const;

    /// An upright dimension line at x from y = from to y = to with its text beside it on the left, where the
    /// text finds room between `top` and `bottom`. `value` is kept for the record.
    void upright_dimension(double x, double from, double to, double value, const std::string& words, double top,
                           double bottom, bool bold);
    /// Keeps a line that was drawn as a side of an outline.
    void drawn(Vec2 from, Vec2 to) { lines_.push_back({from, to}); }
    /// Keeps a dimension that was drawn with plain lines.
    void measured(Vec2 from, Vec2 to, double value) { dimensions_.push_back({from, to, value}); }

  private:
    cairo_t* context_;
    std::shared_ptr<PangoContext> letters_;  // one for the whole sheet: it remembers the fonts it found
    std::vector<PlacedText> texts_;
    std::vector<PlacedLine> lines_;
    std::vector<PlacedDimension> dimensions_;
};

/// A length for people: one decimal, a true minus sign; "?" for what is no number.
std::string number(double value);
std::string signed_number(double value);

}  // namespace standproud::viewer
