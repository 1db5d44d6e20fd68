#include <fcl/fcl.h>

#include <memory>
#include <stdexcept>

#include "support/references.hpp"

namespace standproud::references {

namespace {

fcl::Vector3d vector(RoomPoint p) { return {p.x, p.y, p.z}; }

fcl::CollisionObjectd object_of(const Part& part) {
    const auto& r = std::get<RoundedRect>(part.outline);
    fcl::Transform3d pose = fcl::Transform3d::Identity();
    pose.linear().col(0) = vector(part.place.x);
    pose.linear().col(1) = vector(part.place.y);
    pose.linear().col(2) = vector(part.place.z);
    pose.translation() = vector(part.place.to_room(r.centre.x, r.centre.y, part.length / 2));
    std::shared_ptr<fcl::CollisionGeometryd> shape;
    if (r.is_circle()) {
        shape = std::make_shared<fcl::Cylinderd>(r.radius, part.length);
    } else {
        shape = std::make_shared<fcl::Boxd>(2 * r.half_width, 2 * r.half_height, part.length);
    }
    return {shape, pose};
}

std::shared_ptr<fcl::BVHModel<fcl::OBBRSSd>> model_of(const Mesh& mesh) {
    auto model = std::make_shared<fcl::BVHModel<fcl::OBBRSSd>>();
    model->beginModel();
    for (std::size_t i = 0; i + 2 < mesh.points.size(); i += 3) {
        model->addTriangle(vector(mesh.points[i]), vector(mesh.points[i + 1]), vector(mesh.points[i + 2]));
    }
    model->endModel();
    return model;
}

}  // namespace

std::optional<double> fcl_distance(const Part& a, const Part& b) {
    const auto one = object_of(a);
    const auto other = object_of(b);
    fcl::DistanceRequestd request;
    request.gjk_solver_type = fcl::GST_LIBCCD;
    request.distance_tolerance = 1e-7;
    fcl::DistanceResultd result;
    const double d = fcl::distance(&one, &other, request, result);
    if (d <= 0) return std::nullopt;
    return d;
}

std::optional<double> fcl_depth(const Part& a, const Part& b) {
    const auto one = object_of(a);
    const auto other = object_of(b);
    fcl::CollisionRequestd request(20, true);
    request.gjk_solver_type = fcl::GST_LIBCCD;
    request.gjk_tolerance = 1e-8;
    fcl::CollisionResultd result;
    if (fcl::collide(&one, &other, request, result) == 0) return std::nullopt;
    double depth = 0;
    for (std::size_t i = 0; i < result.numContacts(); ++i) {
        depth = std::max(depth, std::abs(result.getContact(i).penetration_depth));
    }
    return depth;
}

double fcl_mesh_distance(const Part& a, const Part& b, double chord) {
    fcl::CollisionObjectd one(model_of(mesh_of(a, chord)));
    fcl::CollisionObjectd other(model_of(mesh_of(b, chord)));
    fcl::DistanceRequestd request;
    fcl::DistanceResultd result;
    return fcl::distance(&one, &other, request, result);
}

struct MeshScene::Inside {
    std::vector<std::unique_ptr<fcl::CollisionObjectd>> objects;
    fcl::DynamicAABBTreeCollisionManagerd manager;
};

MeshScene::MeshScene(const std::vector<Part>& parts, double chord) : inside_(std::make_unique<Inside>()) {
    for (const auto& part : parts) {
        inside_->objects.push_back(std::make_unique<fcl::CollisionObjectd>(model_of(mesh_of(part, chord))));
        inside_->objects.back()->computeAABB();
        inside_->manager.registerObject(inside_->objects.back().get());
    }
    inside_->manager.setup();
}

MeshScene::~MeshScene() = default;

namespace {

struct Counted {
    double within = 0;
    std::size_t near = 0;
};

bool take(fcl::CollisionObjectd* one, fcl::CollisionObjectd* other, void* data, double& least) {
    auto& counted = *static_cast<Counted*>(data);
    fcl::DistanceRequestd request;
    fcl::DistanceResultd result;
    counted.near += fcl::distance(one, other, request, result) <= counted.within ? 1 : 0;
    least = counted.within;  // keep looking at all that may be as near as that
    return false;
}

}  // namespace

std::size_t MeshScene::near(double within) const {
    Counted counted{within, 0};
    inside_->manager.distance(&counted, take);
    return counted.near;
}

namespace {

bool count_pair(fcl::CollisionObjectd*, fcl::CollisionObjectd*, void* data) {
    ++*static_cast<std::size_t*>(data);
    return false;
}

}  // namespace

std::size_t fcl_box_pairs(const std::vector<std::pair<RoomPoint, RoomPoint>>& boxes) {
    std::vector<std::unique_ptr<fcl::CollisionObjectd>> objects;
    fcl::DynamicAABBTreeCollisionManagerd manager;
    for (const auto& [low, high] : boxes) {
        const RoomPoint size = high - low;
        fcl::Transform3d pose = fcl::Transform3d::Identity();
        pose.translation() = vector(0.5 * (low + high));
        objects.push_back(
            std::make_unique<fcl::CollisionObjectd>(std::make_shared<fcl::Boxd>(size.x, size.y, size.z), pose));
        manager.registerObject(objects.back().get());
    }
    manager.setup();
    std::size_t pairs = 0;
    manager.collide(&pairs, count_pair);
    return pairs;
}

}  // namespace standproud::references
