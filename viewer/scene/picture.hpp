#pragma once

#include <V3d_View.hxx>
#include <filesystem>

namespace standproud::viewer {

/// What a view shows, as PNG of any size, whole or not at all. Throws FileError.
void write_picture(const Handle(V3d_View) & view, int width, int height, const std::filesystem::path& path);

}  // namespace standproud::viewer
