#include "viewer/earlier.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "modeler/files.hpp"
#include "modeler/scene.hpp"
#include "terminal/what_moved.hpp"

namespace standproud::viewer {

std::optional<Earlier> open_earlier(const std::filesystem::path& file, std::string& why) {
    Faults faults;
    std::optional<CheckedJob> job;
    try {
        job = open_job(file.string(), faults, Advice::when_asked);
    } catch (const FileError& error) {
        why = error.what();
        return std::nullopt;
    }
    if (!job) {
        sort_faults(faults);
        why = faults.empty() ? fmt::format("{} cannot be judged", file.string()) : to_string(faults.front());
        return std::nullopt;
    }
    Earlier earlier{file, std::move(*job), {}};
    earlier.parts = build_parts(earlier.job.model);
    for (auto& leg : pipe_legs(earlier.job.model)) earlier.parts.push_back(std::move(leg));
    const auto wall = [](const Part& part) { return part.fitting.empty(); };
    earlier.parts.erase(std::remove_if(earlier.parts.begin(), earlier.parts.end(), wall), earlier.parts.end());
    return earlier;
}

rules::Comparison changes_since(const Earlier& earlier, const Document& document) {
    return rules::compare(earlier.job.model, earlier.job.findings, document.job->model, document.job->findings);
}

std::vector<Part> old_places(const Earlier& earlier, const rules::Comparison& changes) {
    std::set<std::string> elsewhere;
    for (const auto& change : changes.fittings) {
        if (change.kind != rules::FittingChange::Kind::appeared) elsewhere.insert(change.fitting);
    }
    std::vector<Part> parts;
    for (const auto& part : earlier.parts) {
        if (elsewhere.count(part.fitting)) parts.push_back(part);
    }
    return parts;
}

namespace {

std::optional<RoomPoint> on_face(const Model& model, const std::string& fitting) {
    for (const auto& placed : model.fittings) {
        if (fitting_of(model, placed).id != fitting) continue;
        return model.room.walls[placed.wall].to_room(
            placed.u, placed.v, finished_face(model.job, model.room, placed.wall, placed.u, placed.v));
    }
    return std::nullopt;
}

}  // namespace

std::vector<Shift> shifts(const Earlier& earlier, const Document& document, const rules::Comparison& changes) {
    std::vector<Shift> found;
    for (const auto& change : changes.fittings) {
        if (change.kind != rules::FittingChange::Kind::moved) continue;
        const auto from = on_face(earlier.job.model, change.fitting);
        const auto to = on_face(document.job->model, change.fitting);
        if (from && to && norm(*to - *from) > 0.5) found.push_back({change.fitting, *from, *to});
    }
    return found;
}

std::string moved_words(const rules::FittingChange& change) { return what_moved(change); }
std::string moved_words(const rules::OpeningChange& change) { return what_moved(change); }

}  // namespace standproud::viewer
