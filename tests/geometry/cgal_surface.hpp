#pragma once

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Surface_mesh.h>
#include <gtest/gtest.h>

#include <vector>

#include "geometry/mesh.hpp"

namespace bandwright::geometry {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;

inline Kernel::Point_3 asPoint(const Vec3& p) {
    return {p.x, p.y, p.z};
}

inline Surface asSurface(const Mesh& mesh) {
    Surface surface;
    std::vector<Surface::Vertex_index> at;
    for (const Vec3& p : mesh.points)
        at.push_back(surface.add_vertex(asPoint(p)));
    for (const auto& t : mesh.triangles) {
        const auto face =
            surface.add_face(at[mesh.pointOf[t[0]]], at[mesh.pointOf[t[1]]], at[mesh.pointOf[t[2]]]);
        EXPECT_NE(face, Surface::null_face());
    }
    return surface;
}

}  // namespace bandwright::geometry
