// The recess in the kernel's view: solids, flags, the chosen finding's dimension, the cut.
#pragma once

#include <AIS_InteractiveContext.hxx>
#include <AIS_Shape.hxx>
#include <Graphic3d_ClipPlane.hxx>
#include <V3d_View.hxx>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "scene/clash_marks.hpp"
#include "scene/edges.hpp"
#include "scene/face_mesh.hpp"
#include "scene/flags.hpp"
#include "scene/look.hpp"
#include "scene/solid_store.hpp"
#include "viewer/earlier.hpp"

namespace standproud::viewer {

class Scene {
  public:
    explicit Scene(const Handle(V3d_View) & view);

    /// Brings the view up to date; parts whose solid is not in the store yet are left out.
    /// With an earlier state, what moved is drawn as a ghost in its old place.
    void show(const Document& document, const SolidStore& store, const Look& look, const Earlier* earlier = nullptr);

    /// Hides walls seen from behind, or shows them again, and gives flags their places. Call when the eye has moved.
    void update_for_eye(const Document& document, const Look& look);
    /// The flags that are in the picture, by their names.
    [[nodiscard]] std::map<std::string, PlateBox> flag_boxes() const;

    /// What is under a pixel of the view; empty for nothing.
    std::string part_at(int x, int y);

    /// Measuring: which corners, edges and faces can be picked instead of whole parts.
    void pick_pieces(bool on);
    /// The piece under a pixel, in its place; false when there is none.
    bool piece_at(int x, int y, TopoDS_Shape& piece, RoomPoint& point);
    /// Draws a measured distance; none takes it away.
    void show_measure(const std::vector<RoomPoint>& ends, const std::string& words, const Look& look);

    [[nodiscard]] const Handle(AIS_InteractiveContext) & context() const { return context_; }

  private:
    struct Item {
        Handle(EdgedSolid) object;
        std::string key;
        std::vector<Segment> edges;  ///< all of them
        std::string edges_as;        ///< what covered some of them when they were last drawn
        std::string wall;
        std::string dressed;  ///< how it was last made to look
        std::string put_as;   ///< shown or not, and what of it can be picked
        Shown state = Shown::full;
        bool in_the_way = false;
    };

    void show_part(const Document& document, const Part& part, const MadeSolid& solid, const Look& look,
                   bool ghost_rest);
    void cover_edges(const Document& document, const Look& look, bool ghost_rest);
    [[nodiscard]] static std::optional<Colour> edge_of(const Model& model, const Part& part);
    void dress(Item& item, const Part& part, std::optional<Colour> edge, const Look& look, Shown state,
               bool near_choice);
    void place(Item& item, RoomPoint moved);
    void put(Item& item);
    void show_floor(const Model& model, const Look& look);
    void show_cut(const Look& look);
    void show_marks(const Document& document, const Look& look);
    void show_earlier(const Document& document, const Earlier* earlier, const SolidStore& store, const Look& look);
    void show_survey(const Document& document, const Look& look);
    void hide_walls_in_the_way(const Model& model, const Look& look);
    void lay_flags(const Document& document, const Look& look);
    void add_marks(const Marks& marks);
    void show_object(const Handle(AIS_InteractiveObject) & object);

    Handle(V3d_View) view_;
    Handle(AIS_InteractiveContext) context_;
    Handle(Graphic3d_ClipPlane) plane_;
    std::map<std::string, Item> items_;
    std::vector<Handle(AIS_InteractiveObject)> marks_;
    std::vector<Flag> marks_flags_;  ///< that are wanted by marks, the survey, the earlier state
    std::vector<Flag> survey_flags_;
    std::vector<Flag> earlier_flags_;
    std::vector<Flag> flags_;  ///< all of them
    std::vector<FlagPlace> flag_places_;
    std::vector<Handle(AIS_InteractiveObject)> flag_objects_;
    std::vector<Handle(AIS_InteractiveObject)> measure_;
    ClashSolids clash_;
    std::string clash_key_;
    std::vector<FaceGrid> grids_;
    std::string grids_of_;
    std::vector<WallMark> survey_;
    std::string survey_as_;
    std::vector<Handle(AIS_InteractiveObject)> earlier_;
    std::string earlier_as_;
    Handle(AIS_Shape) floor_;
    std::string floor_key_;
    bool pieces_ = false;
    std::optional<bool> ground_;  ///< dark or light, as last set
};

}  // namespace standproud::viewer
