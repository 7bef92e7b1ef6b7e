// SPDX-License-Identifier: MIT
#include "picture/ribbons.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "picture/cloths.h"

namespace loopmend {
namespace {

Point3 at(const RibbonVertex& v) {
    return {v.at[0], v.at[1], v.at[2]};
}

double fromLine(Point3 p, Point3 a, Point3 b) {
    const Point3 d = b - a;
    const double t = std::min(1.0, std::max(0.0, dot(p - a, d) / std::max(1e-12, dot(d, d))));
    return length(p - mix(a, b, t));
}

}  // namespace

TEST_CASE("a ribbon has two edges a point and whole triangles") {
    const SeenCloth cloth = seenCloth(6, 6, Oddity::ladder);
    const RibbonMesh mesh = ribbonsOf(cloth.path, cloth.fabric());
    REQUIRE(mesh.vertices.size() % 2 == 0);
    REQUIRE(mesh.indices.size() % 3 == 0);
    std::size_t ribbons = mesh.vertices.size();
    if (!mesh.knuckles.empty()) ribbons = mesh.knuckles.front();
    for (std::size_t i = 0; i < ribbons; i += 2) {
        REQUIRE(mesh.vertices[i].end == 0);
        REQUIRE(mesh.vertices[i].edge == -1);
        REQUIRE(mesh.vertices[i + 1].edge == 1);
        REQUIRE(length(at(mesh.vertices[i]) - at(mesh.vertices[i + 1])) == 0);
        const RibbonVertex& v = mesh.vertices[i];
        REQUIRE(std::hypot(v.along[0], v.along[1], v.along[2]) == Approx(1).margin(1e-4));
    }
    for (const std::uint32_t i : mesh.indices) REQUIRE(i < ribbons);
    std::size_t counted = 0;
    for (const RibbonMesh::Stretch& s : mesh.stretches) {
        REQUIRE(s.firstIndex == counted);
        counted += s.indexCount;
        for (std::uint32_t i = s.firstIndex; i + 5 < s.firstIndex + s.indexCount; i += 6)
            REQUIRE(mesh.vertices[mesh.indices[i]].entry == s.entry.value);
    }
    CHECK(counted == mesh.indices.size());
}

TEST_CASE("every entry of the path is in the mesh") {
    const SeenCloth cloth = seenCloth(7, 6, Oddity::ladder);
    std::set<std::int32_t> wanted;
    std::set<std::int32_t> there;
    for (const PathStrand& s : cloth.path.strands) {
        if (s.tool) continue;
        for (std::size_t i = 0; i + 1 < s.points.size(); ++i) wanted.insert(s.points[i].entry.value);
    }
    for (const RibbonMesh::Stretch& s : ribbonsOf(cloth.path, cloth.fabric()).stretches)
        if (s.entry) there.insert(s.entry.value);
    CHECK(there == wanted);
}

TEST_CASE("the mesh follows the curve as closely as was asked, with fewer triangles from afar") {
    const SeenCloth cloth = seenCloth(8, 8);
    std::size_t before = 0;
    for (const double pixelsPerMm : {2.0, 5.0, 20.0}) {
        RibbonOptions options;
        options.pixelsPerMm = pixelsPerMm;
        const RibbonMesh mesh = ribbonsOf(cloth.path, cloth.fabric(), options);
        CHECK(mesh.triangles() > before);
        before = mesh.triangles();
        // Points of the yarn against the polyline of its ribbon.
        double worst = 0;
        const PathStrand& yarn = cloth.path.strands.front();
        std::vector<Point3> line;
        for (std::size_t i = 0; i < mesh.vertices.size() && mesh.vertices[i].material == Material::yarn;
             i += 2)
            line.push_back(at(mesh.vertices[i]));
        for (const PathPoint& p : yarn.points) {
            double nearest = 1e9;
            for (std::size_t i = 0; i + 1 < line.size(); ++i)
                nearest = std::min(nearest, fromLine(p.at, line[i], line[i + 1]));
            worst = std::max(worst, nearest);
        }
        CHECK(worst * pixelsPerMm < 0.75);
    }
}

TEST_CASE("a swatch of 30 by 40 stays in the number of triangles that a software renderer can draw") {
    const SeenCloth cloth = seenCloth(30, 40, Oddity::none, false);
    const View view = View::fitting(boundsOf(cloth.path), 1280, 800);
    RibbonOptions options;
    options.pixelsPerMm = view.pixelsPerMm;
    const std::size_t triangles = ribbonsOf(cloth.path, cloth.fabric(), options).triangles();
    INFO(triangles);
    CHECK(triangles <= 60000);
}

TEST_CASE("needles are wood and pointed, yarns have their colour") {
    const SeenCloth cloth = seenCloth(6, 6);
    const RibbonMesh mesh = ribbonsOf(cloth.path, cloth.fabric());
    float thin = 1e9F;
    float thick = 0;
    int wood = 0;
    for (const RibbonVertex& v : mesh.vertices) {
        if (v.material != Material::wood) continue;
        ++wood;
        CHECK(v.entry == -1);
        thick = std::max(thick, v.radius);
        if (v.radius > 0) thin = std::min(thin, v.radius);
    }
    CHECK(wood > 20);
    CHECK(thin < 0.4F * thick);
}

TEST_CASE("yarn under other yarn gets less light on that side") {
    const SeenCloth cloth = seenCloth(8, 8);
    const RibbonMesh mesh = ribbonsOf(cloth.path, cloth.fabric());
    int darker = 0;
    int differ = 0;
    for (const RibbonVertex& v : mesh.vertices) {
        if (v.lightRight < 200 || v.lightWrong < 200) ++darker;
        if (std::abs(int{v.lightRight} - int{v.lightWrong}) > 40) ++differ;
    }
    CHECK(darker * 4 > static_cast<int>(mesh.vertices.size()));
    CHECK(differ * 10 > static_cast<int>(mesh.vertices.size()));
    RibbonOptions options;
    options.openness = false;
    for (const RibbonVertex& v : ribbonsOf(cloth.path, cloth.fabric(), options).vertices)
        REQUIRE(v.lightRight == 255);
}

TEST_CASE("there is a knuckle where yarn bends back, and none on a straight strand") {
    Path path;
    PathStrand yarn;
    yarn.yarn = YarnId{0};
    yarn.mm = 1.2;
    for (int i = 0; i < 12; ++i) yarn.points.push_back({{1.0 * i, 0, 0}, EntryId{0}});
    path.strands = {yarn};
    const Fabric fabric;
    CHECK(ribbonsOf(path, fabric).knuckles.empty());
    for (int i = 0; i < 12; ++i) {
        const double turn = 3.14159265 * i / 11;
        path.strands[0].points.push_back(
            {{12 + 0.7 * std::sin(turn), 0, 0.7 - 0.7 * std::cos(turn)}, EntryId{0}});
    }
    const RibbonMesh mesh = ribbonsOf(path, fabric);
    REQUIRE(mesh.knuckles.size() >= 6);
    for (const std::uint32_t k : mesh.knuckles) {
        REQUIRE(k < mesh.vertices.size());
        CHECK(mesh.vertices[k].end != 0);
        CHECK(mesh.vertices[k].at[0] > 11);
    }
}

}  // namespace loopmend
