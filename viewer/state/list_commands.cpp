// Commands on lists and tables of a job file: entries added, taken out, written where their neighbours are.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "state/steps.hpp"
#include "state/write_entry.hpp"

namespace standproud::viewer {

namespace {

const char* const unreadable = "the file is not readable as TOML: undo, or put it right in a text editor first";

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
    if (!path_parts(path)) return fmt::format("{} names no table", path);
    Steps steps(document, name);
    steps.then([&](const Places& places) { return put_table(places, path, entry); });
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
