// The surveyed bare faces in the 3D view: coloured grids with lean and hollows exaggerated, and the readings on them.
#pragma once

#include <vector>

#include "scene/marks.hpp"
#include "viewer/survey_view.hpp"

namespace standproud::viewer {

/// Something of one wall, to be left out with it when it is seen from behind.
struct WallMark {
    std::size_t wall = 0;
    Handle(AIS_InteractiveObject) object;
};

std::vector<FaceGrid> face_grids(const CheckedJob& job);

/// Must hold: the job has a survey, and the grids are of it.
std::vector<WallMark> survey_meshes(const CheckedJob& job, const std::vector<FaceGrid>& grids, const Look& look);
/// What was read, where it was read; a suspect reading finds room first.
std::vector<Flag> survey_flags(const CheckedJob& job, const Look& look);

}  // namespace standproud::viewer
