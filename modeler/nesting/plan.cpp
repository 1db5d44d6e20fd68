#include "nesting/plan.hpp"

#include <algorithm>

namespace standproud::nesting {

namespace {

using Kind = CutPart::Kind;

/// A part in whole units; x, y are true, sizes are true (not grown).
struct Box {
    Unit x = 0;
    Unit y = 0;
    Unit width = 0;
    Unit height = 0;
};

class Layer {
  public:
    Layer(const Plan& plan, const BareSheet& sheet) : plan_(plan), sheet_(sheet) {}

    SheetLayout run() {
        Box box{0, 0, sheet_.width, sheet_.height};
        std::optional<std::size_t> part = add_part(box);
        if (sheet_.trim > 0) part = trim_edges(*part, box);
        if (part && plan_.root >= 0) lay(plan_.root, *part, box);
        for (const CutPart& p : layout_.parts) {
            if (p.kind == Kind::offcut) layout_.offcuts.push_back(p.at);
        }
        std::stable_sort(layout_.offcuts.begin(), layout_.offcuts.end(),
                         [](const Rect& a, const Rect& b) { return a.width * a.height > b.width * b.height; });
        return std::move(layout_);
    }

  private:
    std::optional<std::size_t> add_part(const Box& box) {
        if (box.width <= 0 || box.height <= 0) return std::nullopt;
        CutPart part;
        part.at = {to_mm(box.x), to_mm(box.y), to_mm(box.width), to_mm(box.height)};
        const bool usable = std::min(box.width, box.height) >= sheet_.usable_side;
        part.kind = usable ? Kind::offcut : Kind::waste;
        layout_.parts.push_back(part);
        return layout_.parts.size() - 1;
    }

    /// Cuts a part so that its first side keeps `keep`; tells both boxes.
    void cut(std::size_t part, const Box& box, bool upright, Unit keep, Box& first, Box& second) {
        const Unit whole = upright ? box.width : box.height;
        split(part, box, upright, keep, std::min(whole, keep + sheet_.kerf), first, second);
    }

    std::optional<std::size_t> trim_edges(std::size_t part, Box& box) {
        const Unit thrown = std::max<Unit>(0, sheet_.trim - sheet_.kerf);  // of the trim, what the saw does not take
        std::optional<std::size_t> left = part;
        for (const bool upright : {true, false}) {
            for (const bool near : {true, false}) {
                const Unit whole = upright ? box.width : box.height;
                const std::size_t cut_one = *left;
                Box first;
                Box second;
                // A near edge: its waste is the first side, and the saw takes the rest of the trim.
                split(cut_one, box, upright, near ? thrown : whole - sheet_.trim, near ? sheet_.trim : whole - thrown,
                      first, second);
                layout_.parts[cut_one].trims = true;
                const auto& p = layout_.parts[cut_one];
                const auto waste = near ? p.first : p.second;
                left = near ? p.second : p.first;
                if (waste) layout_.parts[*waste].kind = Kind::waste;
                box = near ? second : first;
                if (!left) return left;
            }
        }
        return left;
    }

    /// The saw takes from..to, counted from the part's own edge.
    void split(std::size_t part, const Box& box, bool upright, Unit from, Unit to, Box& first, Box& second) {
        first = second = box;
        if (upright) {
            first.width = from;
            second.x += to;
            second.width -= to;
        } else {
            first.height = from;
            second.y += to;
            second.height -= to;
        }
        const Unit start = upright ? box.x : box.y;
        const auto a = add_part(first);
        const auto b = add_part(second);
        CutPart& p = layout_.parts[part];
        p.kind = upright ? Kind::cut_upright : Kind::cut_level;
        p.from = to_mm(start + from);
        p.to = to_mm(start + to);
        p.first = a;
        p.second = b;
    }

    /// Cuts off what a part has beyond the node's box, the larger rectangle whole.
    void cut_off_excess(const PlanNode& node, std::size_t& part, Box& box) {
        const Unit wide = box.width - (node.width - sheet_.kerf);
        const Unit high = box.height - (node.height - sheet_.kerf);
        const double right_whole = static_cast<double>(wide) * static_cast<double>(box.height);
        const double top_whole = static_cast<double>(high) * static_cast<double>(box.width);
        const bool upright_first = right_whole >= top_whole;
        for (const bool upright : {upright_first, !upright_first}) {
            if ((upright ? wide : high) <= 0) continue;
            Box kept;
            Box rest;
            cut(part, box, upright, (upright ? node.width : node.height) - sheet_.kerf, kept, rest);
            part = *layout_.parts[part].first;
            box = kept;
        }
    }

    void lay(int index, std::size_t part, Box box) {
        const PlanNode& node = plan_.nodes[static_cast<std::size_t>(index)];
        if (node.kind == PlanNode::Kind::leftover) return;
        cut_off_excess(node, part, box);
        if (node.kind == PlanNode::Kind::piece) {
            CutPart& p = layout_.parts[part];
            p.kind = Kind::piece;
            p.piece = static_cast<std::size_t>(node.type);
            layout_.placed.push_back({p.piece, p.at, node.turned});
            return;
        }
        const bool upright = node.kind == PlanNode::Kind::beside;
        const PlanNode& one = plan_.nodes[static_cast<std::size_t>(node.first)];
        Box first;
        Box second;
        cut(part, box, upright, (upright ? one.width : one.height) - sheet_.kerf, first, second);
        const auto a = layout_.parts[part].first;
        const auto b = layout_.parts[part].second;
        if (a) lay(node.first, *a, first);
        if (b) lay(node.second, *b, second);
    }

    const Plan& plan_;
    const BareSheet& sheet_;
    SheetLayout layout_;
};

}  // namespace

SheetLayout lay_plan(const Plan& plan, const BareSheet& sheet) { return Layer(plan, sheet).run(); }

}  // namespace standproud::nesting
