#include "body_buffers.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "shaders.hpp"
#include "targets.hpp"

namespace bandwright::render {

namespace {

void attribute(GLuint place, GLint numbers, std::size_t offset) {
    glEnableVertexAttribArray(place);
    glVertexAttribPointer(
        place, numbers, GL_FLOAT, GL_FALSE, sizeof(scene::BodyMesh::Vertex),
        reinterpret_cast<const void*>(offset));  // NOLINT(performance-no-int-to-ptr): OpenGL's way
}

template <class T>
void fillBuffer(GLenum target, GLuint buffer, const std::vector<T>& values) {
    glBindBuffer(target, buffer);
    glBufferData(target, static_cast<GLsizeiptr>(values.size() * sizeof(T)), values.data(), GL_STATIC_DRAW);
}

void append(Runs& runs, std::size_t first, std::size_t count) {
    if (count == 0) return;
    runs.counts.push_back(static_cast<GLsizei>(3 * count));
    const std::size_t offset = 3 * first * sizeof(std::uint32_t);
    runs.offsets.push_back(reinterpret_cast<const void*>(offset));  // NOLINT(performance-no-int-to-ptr)
}

// Adjacent faces of one zone form one run; triangles that no face names count as outside.
void splitRuns(BodyBuffers& body) {
    body.zones = {};
    std::size_t from = 0, to = 0;
    scene::Zone zone = scene::Zone::Outside;
    const auto close = [&] { append(body.zones[static_cast<std::size_t>(zone)], from, to - from); };
    for (const geometry::MeshFace& face : body.mesh->faces) {
        if (const scene::Zone next = scene::zoneOf(face.tag.feature); next != zone) {
            close();
            from = to;
            zone = next;
        }
        to = face.firstTriangle + face.triangleCount;
    }
    close();
    zone = scene::Zone::Outside;
    from = to;
    to = body.mesh->indices.size() / 3;
    close();
}

void upload(BodyBuffers& body) {
    if (body.layout == 0) {
        body.layout = GlVertexArray::make();
        body.vertices = GlBuffer::make();
        body.indices = GlBuffer::make();
    }
    glBindVertexArray(body.layout);
    fillBuffer(GL_ARRAY_BUFFER, body.vertices, body.mesh->vertices);
    fillBuffer(GL_ELEMENT_ARRAY_BUFFER, body.indices, body.mesh->indices);
    attribute(0, 3, offsetof(scene::BodyMesh::Vertex, position));
    attribute(1, 3, offsetof(scene::BodyMesh::Vertex, normal));
    attribute(2, 1, offsetof(scene::BodyMesh::Vertex, openness));
    attribute(3, 1, offsetof(scene::BodyMesh::Vertex, wall));
    glBindVertexArray(0);
    splitRuns(body);
}

void uploadFacets(BodyBuffers& body, const scene::GemLook& gem) {
    std::vector<std::array<float, 4>> planes(scene::kMostFacets);
    for (std::size_t i = 0; i < std::min(gem.facets.size(), scene::kMostFacets); ++i) {
        const scene::FacetPlane& plane = gem.facets[i];
        planes[i] = {plane.normal[0], plane.normal[1], plane.normal[2], plane.offset};
    }
    if (body.facets == 0) body.facets = GlBuffer::make();
    fillBuffer(GL_UNIFORM_BUFFER, body.facets, planes);
}

void uploadSkin(BodyBuffers& body, const scene::Skin& skin) {
    std::vector<std::array<float, 3>> row;
    row.reserve(skin.size());
    for (const trade::LinearRgb& c : skin)
        row.push_back({static_cast<float>(c[0]), static_cast<float>(c[1]), static_cast<float>(c[2])});
    if (body.skin == 0) body.skin = GlTexture::make();
    fillRow(body.skin, row);
}

}  // namespace

void update(std::vector<BodyBuffers>& buffers, const std::vector<scene::Body>& bodies) {
    buffers.resize(bodies.size());
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        BodyBuffers& held = buffers[i];
        const bool first = held.layout == 0;
        if (held.mesh != bodies[i].mesh) {
            held.mesh = bodies[i].mesh;
            upload(held);
        }
        if (first || held.material != bodies[i].material) {
            held.material = bodies[i].material;
            if (const auto* gem = std::get_if<scene::GemLook>(&held.material)) uploadFacets(held, *gem);
            const auto* metal = std::get_if<scene::MetalLook>(&held.material);
            if (metal != nullptr && metal->skin) uploadSkin(held, *metal->skin);
        }
    }
}

}  // namespace bandwright::render
