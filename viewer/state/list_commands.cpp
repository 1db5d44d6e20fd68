// Commands on lists and tables of a job file: entries added, taken out, written where their neighbours are.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

const char* const unreadable = "the file is not readable as TOML: undo, or put it right in a text editor first";
const char* const in_a_list = "the list above it is written in brackets: add it by hand";
const char* const remark_inside = "a remark stands there: take it out by hand";

const toml::node* node_of(const Places& places, const std::string& path) {
    const auto parts = path_parts(path);
    return parts ? node_at(places.tree(), *parts) : nullptr;
}

/// "walls[2].noggins" without its indices, as Places::end_of_block names blocks: "walls[].noggins".
std::string block_name(const std::string& path) {
    std::string name;
    const auto parts = path_parts(path);
    for (const auto& part : *parts) {
        name += part.is_index ? "[]" : (name.empty() ? "" : ".") + part.key;
    }
    return name;
}

/// The keys alone, as a header has them: "walls.noggins".
std::string header_name(const std::string& path) {
    std::string name;
    const auto parts = path_parts(path);
    for (const auto& part : *parts) {
        if (!part.is_index) name += (name.empty() ? "" : ".") + part.key;
    }
    return name;
}

/// "walls[2]" of "walls[2].noggins"; "" of "layers".
std::string owner_of(const std::string& path) {
    const std::size_t dot = path.rfind('.');
    return dot == path.npos ? "" : path.substr(0, dot);
}

std::string lines_of(const std::string& header, const Entry& entry, const std::string& feed) {
    std::string text = header + feed;
    for (const auto& [key, value] : entry) text += fmt::format("{} = {}{}", key, value, feed);
    return text;
}

std::string braces_of(const Entry& entry) {
    std::string text;
    for (const auto& [key, value] : entry) text += fmt::format("{}{} = {}", text.empty() ? "" : ", ", key, value);
    return "{" + text + "}";
}

bool good(const Entry& entry) {
    return std::all_of(entry.begin(), entry.end(), [](const auto& pair) { return is_toml_value(pair.second); });
}

/// Each entry of the list has a header of its own, "[[...]]".
bool in_blocks(const Places& places, const toml::array& list) {
    return !list.empty() && places.text().compare(places.begin_of(*list.get(0)), 2, "[[") == 0;
}

/// Where the lines of block `index` begin and end, remarks before the next table not counted.
std::pair<std::size_t, std::size_t> block_of(const Places& places, const toml::node& entry, const std::string& name) {
    const std::size_t begin = places.line_begin(places.begin_of(entry));
    return {begin, without_remarks_at_end(places, begin, places.end_of_block(places.begin_of(entry), name))};
}

Change put_block(const Places& places, const toml::array& list, const std::string& path, std::size_t at,
                 const Entry& entry) {
    const std::string feed = places.line_feed();
    const std::string lines = lines_of("[[" + header_name(path) + "]]", entry, feed);
    const std::string name = block_name(path) + "[]";
    if (at == 0) {
        // Behind the remarks above it: they are the list's heading more often than the first entry's.
        return {{{places.line_begin(places.begin_of(*list.get(0))), "", lines}}, ""};
    }
    const auto [begin, end] = block_of(places, *list.get(at - 1), name);
    const bool apart = begin > 0 && places.line_end(begin - 1) == places.line_begin(begin - 1);  // an empty line above
    const std::string before = places.text()[end - 1] == '\n' ? "" : feed;
    return {{{end, "", before + (apart ? feed : "") + lines}}, ""};
}

/// Into a list in brackets, in the style of the list: on a line of its own where the others have one.
Change put_in_brackets(const Places& places, const toml::array& list, std::size_t at, const std::string& value) {
    const std::string& text = places.text();
    const std::size_t open = places.begin_of(list);
    if (list.empty()) {
        const std::size_t close = places.end_of_value(open) - 1;
        if (text.substr(open, close - open).find('#') != text.npos) return {{}, remark_inside};
        return {{{open + 1, text.substr(open + 1, close - open - 1), value}}, ""};
    }
    const std::size_t neighbour = places.begin_of(*list.get(std::min(at, list.size() - 1)));
    const std::size_t line = places.line_begin(neighbour);
    const bool own_line = text.find_first_not_of(" \t", line) == neighbour;
    const std::string gap = own_line ? places.line_feed() + text.substr(line, neighbour - line) : " ";
    if (at < list.size()) return {{{neighbour, "", value + "," + gap}}, ""};
    return {{{places.end_of_value(neighbour), "", "," + gap + value}}, ""};
}

Change take_from_brackets(const Places& places, const toml::array& list, std::size_t index) {
    const std::string& text = places.text();
    std::size_t begin = places.begin_of(*list.get(index));
    std::size_t end = places.end_of_value(begin);
    if (index + 1 < list.size()) {
        end = places.begin_of(*list.get(index + 1));
    } else if (index > 0) {
        begin = places.end_of_value(places.begin_of(*list.get(index - 1)));
    } else {
        const std::size_t after = text.find_first_not_of(" \t\r\n", end);
        if (after != text.npos && text[after] == ',') end = after + 1;
    }
    const std::string removed = text.substr(begin, end - begin);
    if (removed.find('#') != removed.npos) return {{}, remark_inside};
    return {{{begin, removed, ""}}, ""};
}

/// A list of tables that is not in the file yet, with its first entry.
Change first_entry(const Places& places, const std::string& path, const Entry& entry) {
    const std::string& text = places.text();
    const std::string feed = places.line_feed();
    const std::string lines = lines_of("[[" + header_name(path) + "]]", entry, feed);
    const std::string owner = owner_of(path);
    if (owner.empty()) {
        const std::string gap = text.empty() ? "" : text.back() == '\n' ? feed : feed + feed;
        return {{{text.size(), "", gap + lines}}, ""};
    }
    const auto* table = node_of(places, owner);
    if (!table || !table->is_table()) return {{}, fmt::format("{} is not in the file", owner)};
    if (table->as_table()->is_inline()) return change_value(places, path, "[" + braces_of(entry) + "]");
    if (text.compare(places.begin_of(*table), 1, "[") != 0) return {{}, in_a_list};
    const auto [begin, end] = block_of(places, *table, block_name(owner));
    return {{{end, "", (text[end - 1] == '\n' ? "" : feed) + lines}}, ""};
}

Change put_entry(const Places& places, const std::string& path, std::size_t at, const Entry& entry) {
    const auto* node = node_of(places, path);
    if (!good(entry)) return {{}, "a value there cannot be written in a job file"};
    if (!node) return first_entry(places, path, entry);
    const auto* list = node->as_array();
    if (!list || at > list->size()) return {{}, fmt::format("{} has no place {}", path, at + 1)};
    if (in_blocks(places, *list)) return put_block(places, *list, path, at, entry);
    return put_in_brackets(places, *list, at, braces_of(entry));
}

/// A block taken out; the empty line behind it too where one stands above it, so that one stays.
Change without_block(const Places& places, const toml::node& node, const std::string& name) {
    const auto [begin, end] = block_of(places, node, name);
    std::size_t stop = end;
    const bool apart = begin > 0 && places.line_end(begin - 1) == places.line_begin(begin - 1);
    if (apart && stop < places.text().size() && places.line_end(stop) == stop) stop = places.next_line(stop);
    return {{{begin, places.text().substr(begin, stop - begin), ""}}, ""};
}

Change take_entry(const Places& places, const std::string& path, std::size_t index) {
    const auto* node = node_of(places, path);
    const auto* list = node ? node->as_array() : nullptr;
    if (!list || index >= list->size()) return {{}, fmt::format("{} has no entry {}", path, index + 1)};
    if (!in_blocks(places, *list)) return take_from_brackets(places, *list, index);
    return without_block(places, *list->get(index), block_name(path) + "[]");
}

Change take_whole(const Places& places, const std::string& path) {
    const auto* node = node_of(places, path);
    if (!node) return {{}, fmt::format("{} is not in the file", path)};
    const std::string& text = places.text();
    const std::size_t at = places.begin_of(*node);
    const auto* table = node->as_table();
    if (table && !table->is_inline()) {
        if (text.compare(at, 1, "[") != 0) return {{}, fmt::format("{} is written in dotted keys", path)};
        return without_block(places, *node, block_name(path));
    }
    const auto* owner = node_of(places, owner_of(path));
    if (owner && owner->as_table() && owner->as_table()->is_inline())
        return {{}, fmt::format("{} is written inside braces: take it out by hand", path)};
    const std::size_t begin = places.line_begin(at);
    const std::size_t end = places.next_line(places.end_of_value(at));
    const std::string removed = text.substr(begin, end - begin);
    if (text.substr(at, places.end_of_value(at) - at).find('#') != text.npos) return {{}, remark_inside};
    return {{{begin, removed, ""}}, ""};
}

/// Whether `large` says what `small` does and, at `path`, one thing more: an entry of a list, or the whole.
bool says_one_more(const std::string& small, const std::string& large, const std::string& path,
                   std::optional<std::size_t> index) {
    const auto less = Places::of(small);
    const auto more = Places::of(large);
    if (!less || !more) return false;
    toml::table tree = more->tree();
    const std::string owner = owner_of(path);
    const std::string key = path_parts(path)->back().key;
    auto* table = const_cast<toml::node*>(owner.empty() ? &tree : node_at(tree, *path_parts(owner)));
    if (!table || !table->is_table() || !table->as_table()->contains(key)) return false;
    auto* list = table->as_table()->get(key)->as_array();
    if (index) {
        if (!list || *index >= list->size()) return false;
        list->erase(list->cbegin() + static_cast<std::ptrdiff_t>(*index));
        if (!list->empty() || node_of(*less, path)) return tree == less->tree();
    }
    table->as_table()->erase(key);
    return tree == less->tree();
}

/// Carries changes out one after another, each worked out on the text that the one before it left.
class Steps {
  public:
    Steps(const Document& document, const std::string& name) : text_(document.text), step_{name, "", {}} {}

    /// `change` takes Places and returns a Change.
    template <typename Work>
    void then(Work change) {
        if (!refusal_.empty()) return;
        const auto places = Places::of(text_);
        const Change done = places ? change(*places) : Change{{}, unreadable};
        refusal_ = done.refusal;
        if (!refusal_.empty()) return;
        for (const auto& splice : done.splices) {
            text_.replace(splice.at, splice.removed.size(), splice.inserted);
            step_.splices.push_back(splice);
        }
    }

    /// Nothing else may have changed, however the file is written.
    void check(bool good) {
        if (refusal_.empty() && !good)
            refusal_ = "that cannot be done here without changing something else: do it by hand";
    }
    [[nodiscard]] const std::string& text() const { return text_; }

    Refusal take(Document& document) { return refusal_.empty() ? take_step(document, std::move(step_)) : refusal_; }

  private:
    std::string text_;
    Step step_;
    Refusal refusal_;
};

std::size_t size_of(const Document& document, const std::string& path) {
    const auto places = Places::of(document.text);
    const auto* node = places ? node_of(*places, path) : nullptr;
    return node && node->is_array() ? node->as_array()->size() : 0;
}

bool written(const Document& document, const std::string& path) {
    const auto places = Places::of(document.text);
    return places && node_of(*places, path);
}

std::string length_text(const Length& length) {
    return length.tolerance
               ? toml_string(fmt::format("{} +/- {}", number_text(length.value), number_text(*length.tolerance)))
               : number_text(length.value);
}

}  // namespace

Refusal add_entry(Document& document, const std::string& list, std::size_t at, const Entry& entry,
                  const std::string& name) {
    if (!path_parts(list)) return fmt::format("{} names no list", list);
    Steps steps(document, name);
    steps.then([&](const Places& places) { return put_entry(places, list, at, entry); });
    steps.check(says_one_more(document.text, steps.text(), list, at));
    return steps.take(document);
}

Refusal remove_entry(Document& document, const std::string& list, std::size_t index, const std::string& name) {
    if (!path_parts(list)) return fmt::format("{} names no list", list);
    Steps steps(document, name);
    steps.then([&](const Places& places) { return take_entry(places, list, index); });
    steps.check(says_one_more(steps.text(), document.text, list, index));
    return steps.take(document);
}

Refusal add_item(Document& document, const std::string& list, std::size_t at, const std::string& value,
                 const std::string& name) {
    if (!is_toml_value(value)) return fmt::format("{} is not a value that a job file can hold", value);
    Steps steps(document, name);
    steps.then([&](const Places& places) -> Change {
        const auto* node = path_parts(list) ? node_of(places, list) : nullptr;
        if (!node || !node->is_array() || at > node->as_array()->size() || in_blocks(places, *node->as_array()))
            return {{}, fmt::format("{} has no place {}", list, at + 1)};
        return put_in_brackets(places, *node->as_array(), at, value);
    });
    steps.check(says_one_more(document.text, steps.text(), list, at));
    return steps.take(document);
}

Refusal add_table(Document& document, const std::string& path, const Entry& entry, const std::string& name) {
    Steps steps(document, name);
    steps.then([&](const Places& places) -> Change {
        if (!path_parts(path) || !good(entry)) return {{}, "a value there cannot be written in a job file"};
        if (node_of(places, path)) return {{}, fmt::format("{} is in the file already", path)};
        const std::string& text = places.text();
        const std::string feed = places.line_feed();
        const std::string lines = lines_of("[" + header_name(path) + "]", entry, feed);
        const std::string owner = owner_of(path);
        if (owner.empty()) {
            const std::string gap = text.empty() ? "" : text.back() == '\n' ? feed : feed + feed;
            return {{{text.size(), "", gap + lines}}, ""};
        }
        const auto* table = node_of(places, owner);
        if (!table || !table->is_table()) return {{}, fmt::format("{} is not in the file", owner)};
        if (table->as_table()->is_inline()) return {{}, in_a_list};
        const auto [begin, end] = block_of(places, *table, block_name(owner));
        return {{{end, "", (text[end - 1] == '\n' ? "" : feed) + lines}}, ""};
    });
    steps.check(says_one_more(document.text, steps.text(), path, std::nullopt));
    return steps.take(document);
}

Refusal remove_table(Document& document, const std::string& path, const std::string& name) {
    if (!path_parts(path)) return fmt::format("{} names no table", path);
    Steps steps(document, name);
    steps.then([&](const Places& places) { return take_whole(places, path); });
    steps.check(says_one_more(steps.text(), document.text, path, std::nullopt));
    return steps.take(document);
}

Refusal move_before(Document& document, const std::string& list, std::size_t index, const std::string& name) {
    Steps steps(document, name);
    steps.then([&](const Places& places) -> Change {
        const auto* node = path_parts(list) ? node_of(places, list) : nullptr;
        const auto* values = node ? node->as_array() : nullptr;
        if (!values || index == 0 || index >= values->size() || in_blocks(places, *values))
            return {{}, fmt::format("{} has nothing before entry {}", list, index + 1)};
        const std::string& text = places.text();
        const std::size_t one = places.begin_of(*values->get(index - 1));
        const std::size_t two = places.begin_of(*values->get(index));
        const std::string first = text.substr(one, places.end_of_value(one) - one);
        const std::string second = text.substr(two, places.end_of_value(two) - two);
        return {{{two, second, first}, {one, first, second}}, ""};
    });
    return steps.take(document);
}

Refusal move_pipe(Document& document, const std::string& id, const WallPoint& by) {
    if (!document.job) return "there is no job";
    const auto& pipes = document.job->model.job.pipes;
    const auto found = std::find_if(pipes.begin(), pipes.end(), [&](const PipeRun& pipe) { return pipe.id == id; });
    if (found == pipes.end()) return fmt::format("there is no pipe \"{}\"", id);
    Steps steps(document, "move " + id);
    const auto index = static_cast<std::size_t>(found - pipes.begin());
    const auto set = [&](std::size_t point, int axis, double value, double change) {
        if (change == 0) return;
        const std::string path = fmt::format("pipes[{}].points[{}][{}]", index, point, axis);
        // Clean of the last digits' noise: 0.1 + 0.2.
        const std::string text = number_text(std::round((value + change) * 1e6) / 1e6);
        steps.then([&](const Places& places) { return change_value(places, path, text); });
    };
    for (std::size_t k = 0; k < found->points.size(); ++k) {
        set(k, 0, found->points[k].u, by.u);
        set(k, 1, found->points[k].v, by.v);
        set(k, 2, found->points[k].n, by.n);
    }
    return steps.take(document);
}

Refusal own_layers(Document& document, std::size_t wall) {
    const std::string list = fmt::format("walls[{}].layers", wall);
    if (!document.job || wall >= document.job->model.job.walls.size()) return "there is no such wall";
    if (written(document, list)) return "this wall has layers of its own already";
    const Wall& of = document.job->model.job.walls[wall];
    if (of.layers.empty()) return "this wall is not lined";
    Steps steps(document, fmt::format("{}: layers of its own", of.id));
    for (std::size_t k = 0; k < of.layers.size(); ++k) {
        const Layer& layer = of.layers[k];
        const Entry entry{{"kind", toml_string(to_string(layer.kind))},
                          {"name", toml_string(layer.name)},
                          {"thickness", length_text(layer.thickness)}};
        steps.then([&](const Places& places) { return put_entry(places, list, k, entry); });
    }
    return steps.take(document);
}

Refusal share_layers(Document& document, std::size_t wall) {
    const std::string list = fmt::format("walls[{}].layers", wall);
    if (!written(document, list)) return "this wall has no layers of its own";
    if (!written(document, "layers")) return "the job has no layers that walls share";
    Steps steps(document, fmt::format("walls[{}]: the shared layers", wall));
    const auto places = Places::of(document.text);
    if (!in_blocks(*places, *node_of(*places, list)->as_array())) {
        steps.then([&](const Places& now) { return take_whole(now, list); });
    } else {
        for (std::size_t k = size_of(document, list); k-- > 0;) {
            steps.then([&](const Places& now) { return take_entry(now, list, k); });
        }
    }
    return steps.take(document);
}

Refusal remove_wall(Document& document, std::size_t wall) {
    if (!document.job || wall >= document.job->model.job.walls.size()) return "there is no such wall";
    const Job& job = document.job->model.job;
    const std::string id = job.walls[wall].id;
    if (job.walls.size() == 1) return "a job has at least one wall";
    const auto stays = [&](const auto& things, const char* what) -> Refusal {
        for (const auto& thing : things) {
            if (thing.wall == id)
                return fmt::format("{} \"{}\" is on {}: move it or take it out first", what, thing.id, id);
        }
        return "";
    };
    if (const Refusal refusal = stays(job.fittings, "fitting"); !refusal.empty()) return refusal;
    if (const Refusal refusal = stays(job.pipes, "pipe"); !refusal.empty()) return refusal;
    if (const Refusal refusal = stays(job.screens, "screen"); !refusal.empty()) return refusal;
    if (job.tray && job.tray->wall == id) return fmt::format("the tray stands against {}: take it out first", id);
    Steps steps(document, fmt::format("take out wall {}", id));
    // Lists that name it let it go.
    for (const char* list : {"panels.order", "tray.walls"}) {
        steps.then([&](const Places& places) -> Change {
            const auto* node = node_of(places, list);
            const auto* names = node ? node->as_array() : nullptr;
            for (std::size_t k = 0; names && k < names->size(); ++k) {
                if (names->get(k)->value_or(std::string()) == id) return take_from_brackets(places, *names, k);
            }
            return {};
        });
    }
    steps.then([&](const Places& places) { return take_entry(places, "walls", wall); });
    return steps.take(document);
}

}  // namespace standproud::viewer
