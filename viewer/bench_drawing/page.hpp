// What every sheet of the bench shares: its frame and foot, things drawn to scale, figures in the margins, places for
// names, and columns of words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "drawing/sheet.hpp"
#include "viewer/bench_report.hpp"

namespace standproud::viewer {

inline constexpr double least_text = 2.2;  ///< mm of the em; nothing on a sheet of the bench is smaller

struct BenchTitle {
    std::string what;
    std::string job;
    std::string revision;
    double scale = 1;  ///< 1:scale
};

/// White paper with its frame and its foot. Returns the room that is left.
Rect begin_page(Sheet& sheet, const BenchTitle& title);

/// A strip with words that must not be missed; `loud`: white on black.
void draw_banner(Sheet& sheet, const std::string& words, const Rect& box, bool loud);

/// To a tenth, as the cut list has it, without ".0".
std::string tenths(double value);

/// "A", "B" ... "Z", "AA": the openings of a panel, in the order of the cut list.
std::string letter_of(std::size_t index);

/// "2 to 9, 11": what is counted up goes together; `show` gives the words of one.
std::string runs_of(const std::vector<std::size_t>& items, std::string (*show)(std::size_t));

/// A frame of the bench on paper: x to the right, y up. mm.
struct OnPaper {
    double scale = 1;  ///< 1:scale
    Vec2 zero;         ///< where the frame's origin lies on paper

    [[nodiscard]] Vec2 at(Vec2 p) const { return {zero.x + p.x / scale, zero.y - p.y / scale}; }
    [[nodiscard]] std::vector<Vec2> at(const std::vector<Vec2>& points) const;
};

/// The largest of the usual scales at which a thing goes into a room of this size.
double usual_scale(double width, double height, double room_width, double room_height);

/// A rounded rectangle as corners anticlockwise, so many to a quarter turn.
std::vector<Vec2> rounded_points(const RoundedRect& shape, int to_a_quarter = 24);

/// Outlines whose sides the sheet remembers as lines, unless they are dashed.
void draw_closed(Sheet& sheet, const std::vector<Vec2>& points, double line_width, Dash dash = Dash::solid);
void draw_open(Sheet& sheet, const std::vector<Vec2>& points, double line_width, Dash dash = Dash::solid);
/// A curve that names may be put on: the sheet does not remember it.
void draw_curve(Sheet& sheet, const std::vector<Vec2>& points, double line_width);

/// A figure in a margin: an extension line from what it belongs to, and words.
struct MarginFigure {
    double at = 0;    ///< on paper: x for figures below and above, y for those beside
    double from = 0;  ///< on paper: where the extension line begins, in the other direction
    std::string words;
    std::size_t bold = 0;  ///< so many bytes at the start are bold
    int rank = 0;          ///< those of the highest rank are left out first when room runs out
};

enum class Margin { below, above, left };

/// Figures side by side in the margin's box, whose edge towards the drawing is where the leaders start. Returns how
/// many found no room.
std::size_t draw_margin(Sheet& sheet, std::vector<MarginFigure> figures, const Rect& box, Margin margin);

/// Where a name may go.
struct NameRoom {
    Rect room;
    double most = 60;              ///< mm from the spot, at most
    double off_lines = 9;          ///< mm from the spot within which a place off every line comes first
    std::vector<Rect> avoid = {};  ///< and never there
};

/// The place nearest to a spot for words of this size: off every text, and off lines where there is such a place.
std::optional<Rect> free_spot(const Sheet& sheet, const NameRoom& in, Vec2 spot, Vec2 size);

/// A name near what it belongs to, on white, with a leader when it is not beside it. False: no room for it in one line.
bool draw_name(Sheet& sheet, const std::string& words, Vec2 spot, const NameRoom& in, const LetterStyle& style);

/// The box around points, and so much on each side.
Rect around(const std::vector<Vec2>& points, double by);

struct Column {
    double width = 0;
    Align align = Align::left;
};

/// Columns whose widths go into this one in the same proportions.
std::vector<Column> stretched(std::vector<Column> columns, double width);

/// Headings, sentences and rows one below the other, wrapped, never smaller than they should be. What finds no room is
/// counted, and said at the foot.
class Flow {
  public:
    Flow(Sheet& sheet, const Rect& box) : sheet_(sheet), box_(box), y_(box.y) {}

    void heading(const std::string& words);
    void say(const std::string& words, bool bold = false);
    void row(const std::vector<std::string>& cells, const std::vector<Column>& columns, bool bold = false);
    void rule();
    void space(double mm) { y_ += mm; }
    [[nodiscard]] double y() const { return y_; }
    [[nodiscard]] double width() const { return box_.width; }
    [[nodiscard]] std::size_t missed() const { return missed_; }
    void finish();

  private:
    bool room_for(double height);

    Sheet& sheet_;
    Rect box_;
    double y_ = 0;
    std::size_t missed_ = 0;
};

}  // namespace standproud::viewer
