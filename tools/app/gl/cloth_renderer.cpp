// SPDX-License-Identifier: MIT
#include "app/gl/cloth_renderer.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "app/gl/program.h"
#include "app/gl/shaders.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>

namespace loopmend::app {

namespace {

constexpr int kMarksAcross = 512;
constexpr int kYarns = 8;
constexpr double kDegree = 3.14159265358979323846 / 180;

/// Bits of what is said about an entry, as the programs know them.
constexpr std::uint8_t bitOf(MarkKind kind) {
    return static_cast<std::uint8_t>(1U << static_cast<unsigned>(kind));
}

/// Where the programs find what the vertices bring.
enum Attribute : unsigned { kAt, kAlong, kThick, kEntry, kKind, kEdge };

/// A mesh on the card.
struct MeshOnCard {
    unsigned array = 0;
    unsigned vertices = 0;
    unsigned indices = 0;
    int count = 0;
    std::vector<RibbonMesh::Stretch> stretches;
    ClothBounds bounds;
    double yarnRadius = 0.5;

    MeshOnCard() = default;
    MeshOnCard(const MeshOnCard&) = delete;
    MeshOnCard& operator=(const MeshOnCard&) = delete;
    ~MeshOnCard() {
        if (array == 0) return;
        glDeleteVertexArrays(1, &array);
        glDeleteBuffers(1, &vertices);
        glDeleteBuffers(1, &indices);
    }

    void put(const RibbonMesh& mesh, const std::vector<std::uint32_t>& chosen) {
        if (array == 0) {
            glGenVertexArrays(1, &array);
            glGenBuffers(1, &vertices);
            glGenBuffers(1, &indices);
            glBindVertexArray(array);
            glBindBuffer(GL_ARRAY_BUFFER, vertices);
            glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices);
            const auto floats = [](unsigned place, int n, unsigned type, std::size_t from) {
                glEnableVertexAttribArray(place);
                glVertexAttribPointer(place, n, type, GL_FALSE, sizeof(RibbonVertex),
                                      reinterpret_cast<const void*>(from));
            };
            const auto whole = [](unsigned place, int n, unsigned type, std::size_t from) {
                glEnableVertexAttribArray(place);
                glVertexAttribIPointer(place, n, type, sizeof(RibbonVertex),
                                       reinterpret_cast<const void*>(from));
            };
            floats(kAt, 3, GL_FLOAT, offsetof(RibbonVertex, at));
            floats(kAlong, 3, GL_FLOAT, offsetof(RibbonVertex, along));
            floats(kThick, 2, GL_FLOAT, offsetof(RibbonVertex, radius));
            whole(kEntry, 1, GL_INT, offsetof(RibbonVertex, entry));
            whole(kKind, 4, GL_UNSIGNED_BYTE, offsetof(RibbonVertex, colour));
            floats(kEdge, 1, GL_BYTE, offsetof(RibbonVertex, edge));
        }
        glBindVertexArray(array);
        glBindBuffer(GL_ARRAY_BUFFER, vertices);
        glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.vertices.size() * sizeof(RibbonVertex)),
                     mesh.vertices.data(), GL_DYNAMIC_DRAW);
        glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(chosen.size() * sizeof(std::uint32_t)),
                     chosen.data(), GL_DYNAMIC_DRAW);
        glBindVertexArray(0);
        count = static_cast<int>(chosen.size());
        stretches = mesh.stretches;
        bounds = mesh.bounds;
        yarnRadius = 0;
        for (const RibbonVertex& v : mesh.vertices) {
            if (v.material == Material::yarn)
                yarnRadius = std::max(yarnRadius, static_cast<double>(v.radius));
        }
        if (yarnRadius <= 0) yarnRadius = 0.5;
    }
    void draw() const {
        glBindVertexArray(array);
        glDrawElements(GL_TRIANGLES, count, GL_UNSIGNED_INT, nullptr);
    }
};

/// What is set while a picture is drawn, put back afterwards.
class Borrowed {
  public:
    Borrowed() {
        glGetIntegerv(GL_FRAMEBUFFER_BINDING, &buffer_);
        glGetIntegerv(GL_VIEWPORT, viewport_);
        scissor_ = glIsEnabled(GL_SCISSOR_TEST);
        blend_ = glIsEnabled(GL_BLEND);
        depth_ = glIsEnabled(GL_DEPTH_TEST);
        cull_ = glIsEnabled(GL_CULL_FACE);
        glDisable(GL_SCISSOR_TEST);
        glDisable(GL_CULL_FACE);
        glDisable(GL_BLEND);
    }
    Borrowed(const Borrowed&) = delete;
    Borrowed& operator=(const Borrowed&) = delete;
    ~Borrowed() {
        const auto put = [](unsigned what, bool on) { on ? glEnable(what) : glDisable(what); };
        put(GL_SCISSOR_TEST, scissor_ != 0);
        put(GL_BLEND, blend_ != 0);
        put(GL_DEPTH_TEST, depth_ != 0);
        put(GL_CULL_FACE, cull_ != 0);
        glDepthMask(GL_TRUE);
        glDepthFunc(GL_LESS);
        glBlendEquation(GL_FUNC_ADD);
        glUseProgram(0);
        glBindVertexArray(0);
        glActiveTexture(GL_TEXTURE0);
        glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(buffer_));
        glViewport(viewport_[0], viewport_[1], viewport_[2], viewport_[3]);
    }

  private:
    int buffer_ = 0;
    int viewport_[4] = {0, 0, 0, 0};
    unsigned char scissor_ = 0;
    unsigned char blend_ = 0;
    unsigned char depth_ = 0;
    unsigned char cull_ = 0;
};

void put(int place, Colour c) {
    glUniform3f(place, static_cast<float>(c.r), static_cast<float>(c.g), static_cast<float>(c.b));
}
void put(int place, Point3 p) {
    glUniform3f(place, static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z));
}
void put(int place, double v) {
    glUniform1f(place, static_cast<float>(v));
}
void put(int place, double x, double y) {
    glUniform2f(place, static_cast<float>(x), static_cast<float>(y));
}

Point3 towardLight(double degrees) {
    // From the upper left, as in a room with a window on that side.
    const double high = std::clamp(degrees, 10.0, 90.0) * kDegree;
    return {-0.57 * std::cos(high), 0.82 * std::cos(high), std::sin(high)};
}

}  // namespace

Colour groundColour(bool dark) {
    return dark ? Colour{0.17, 0.18, 0.20} : Colour{0.87, 0.86, 0.83};
}

std::vector<Colour> yarnColours(ClothLook look, bool dark) {
    if (look == ClothLook::drawing) {
        return {{0.98, 0.94, 0.86}, {0.70, 0.85, 0.96}, {0.30, 0.33, 0.42}, {0.72, 0.90, 0.78},
                {0.98, 0.86, 0.50}, {0.95, 0.76, 0.82}, {0.85, 0.85, 0.85}, {0.93, 0.75, 0.60}};
    }
    const Colour darkYarn = dark ? Colour{0.27, 0.31, 0.42} : Colour{0.17, 0.20, 0.30};
    return {{0.80, 0.42, 0.36}, {0.93, 0.88, 0.76}, darkYarn,           {0.36, 0.64, 0.60},
            {0.88, 0.68, 0.26}, {0.62, 0.52, 0.70}, {0.66, 0.67, 0.68}, {0.52, 0.36, 0.26}};
}

struct ClothRenderer::State {
    GlProgram ribbons;
    GlProgram halos;
    GlProgram shadows;
    GlProgram lights;
    GlProgram finish;
    GlCanvas picture{GlCanvas::Kind::colourAndDepth};
    GlCanvas shadow{GlCanvas::Kind::shade};
    GlCanvas light{GlCanvas::Kind::shade};
    GlCanvas done{GlCanvas::Kind::colour};
    MeshOnCard cloth;
    MeshOnCard ghost;
    unsigned marks = 0;
    unsigned nothing = 0;  ///< an array object for triangles that need no vertices
    std::vector<std::uint8_t> marked;

    ~State() {
        if (marks != 0) glDeleteTextures(1, &marks);
        if (nothing != 0) glDeleteVertexArrays(1, &nothing);
    }

    struct Scene {
        View view;
        ClothStyle style;
        ViewAxes axes;
        Point3 light;
        double deep = 1;  ///< half the depth of the picture, mm
        int scale = 1;
    };

    void setView(const GlProgram& program, const Scene& s, double grow, Point2 shift = {}) const {
        program.use();
        const Point3 rows[3] = {s.axes.right, s.axes.up, s.axes.toward};
        float m[9];
        for (int r = 0; r < 3; ++r) {
            m[r] = static_cast<float>(rows[r].x);
            m[3 + r] = static_cast<float>(rows[r].y);
            m[6 + r] = static_cast<float>(rows[r].z);
        }
        glUniformMatrix3fv(program.place("axes"), 1, GL_FALSE, m);
        put(program.place("centre"), Point3{s.view.centre.x, s.view.centre.y, 0});
        put(program.place("scale"), 2 * s.view.pixelsPerMm / s.view.width,
            2 * s.view.pixelsPerMm / s.view.height);
        put(program.place("depthScale"), 1 / s.deep);
        put(program.place("shift"), shift.x, shift.y);
        put(program.place("grow"), grow);
        put(program.place("hand"), s.axes.hand);
        put(program.place("pixels"), s.view.pixelsPerMm * s.scale);
        glUniform1i(program.place("rightSide"), s.view.side == Side::right ? 1 : 0);
        glUniform1i(program.place("marks"), 0);
    }

    void setRibbons(const Scene& s, double alpha) const {
        const bool drawing = s.style.look == ClothLook::drawing;
        setView(ribbons, s, drawing ? 0.92 : 1.0);
        glUniform1i(ribbons.place("drawing"), drawing ? 1 : 0);
        glUniform1i(ribbons.place("dark"), s.style.dark ? 1 : 0);
        put(ribbons.place("alpha"), alpha);
        put(ribbons.place("plyTurn"), 0.55 / cloth.yarnRadius);
        put(ribbons.place("light"), s.light);
        std::vector<Colour> yarns = s.style.yarns;
        const std::vector<Colour> usual = yarnColours(s.style.look, s.style.dark);
        float values[3 * kYarns];
        for (std::size_t i = 0; i < kYarns; ++i) {
            const Colour c = i < yarns.size() ? yarns[i] : usual[i];
            values[3 * i] = static_cast<float>(c.r);
            values[3 * i + 1] = static_cast<float>(c.g);
            values[3 * i + 2] = static_cast<float>(c.b);
        }
        glUniform3fv(ribbons.place("yarns"), kYarns, values);
    }

    void putMarks(const std::vector<ClothMark>& list) {
        std::int32_t most = 0;
        for (const ClothMark& m : list) most = std::max(most, m.entry.value + 1);
        for (const RibbonMesh::Stretch& s : cloth.stretches) most = std::max(most, s.entry.value + 1);
        for (const RibbonMesh::Stretch& s : ghost.stretches) most = std::max(most, s.entry.value + 1);
        const std::int32_t rows = most / kMarksAcross + 1;
        marked.assign(static_cast<std::size_t>(rows) * kMarksAcross, 0);
        for (const ClothMark& m : list) {
            if (m.entry) {
                std::uint8_t& at = marked[static_cast<std::size_t>(m.entry.value)];
                at = static_cast<std::uint8_t>(at | bitOf(m.kind));
            }
        }
        glActiveTexture(GL_TEXTURE0);
        glBindTexture(GL_TEXTURE_2D, marks);
        glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_R8UI, kMarksAcross, rows, 0, GL_RED_INTEGER, GL_UNSIGNED_BYTE,
                     marked.data());
        glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    }

    /// Halos of what carries one of the marks.
    void drawHalos(const Scene& s, std::uint8_t bits, std::uint8_t not_bits, double grow,
                   Colour colour) const {
        bool first = true;
        for (const RibbonMesh::Stretch& part : cloth.stretches) {
            if (!part.entry) continue;
            const std::uint8_t m = marked[static_cast<std::size_t>(part.entry.value)];
            if ((m & bits) == 0 || (m & not_bits) != 0) continue;
            if (first) {
                setView(halos, s, grow);
                put(halos.place("halo"), colour);
                glBindVertexArray(cloth.array);
                first = false;
            }
            glDrawElements(GL_TRIANGLES, static_cast<int>(part.indexCount), GL_UNSIGNED_INT,
                           reinterpret_cast<const void*>(std::size_t{part.firstIndex} * 4));
        }
    }

    void drawShadow(const Scene& s) const {
        shadow.begin();
        glDisable(GL_DEPTH_TEST);
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT);
        glEnable(GL_BLEND);
        glBlendEquation(GL_MAX);
        const double away = 1.3 * cloth.yarnRadius;
        setView(shadows, s, 2.4, {-s.light.x * away * 1.4, -s.light.y * away * 1.4});
        cloth.draw();
        glBlendEquation(GL_FUNC_ADD);
        glDisable(GL_BLEND);
    }

    void drawGhost(const Scene& s) const {
        // First the depths alone: what is translucent must not be seen through itself.
        glClear(GL_DEPTH_BUFFER_BIT);
        glDepthFunc(GL_LEQUAL);
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        setRibbons(s, 0.62);
        ghost.draw();
        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
        glEnable(GL_BLEND);
        glBlendFuncSeparate(GL_ONE, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
        ghost.draw();
        glDisable(GL_BLEND);
        glDepthFunc(GL_LESS);
    }

    void drawLight(const Scene& s) const {
        light.begin();
        glDisable(GL_DEPTH_TEST);
        lights.use();
        glActiveTexture(GL_TEXTURE0);
        glBindTexture(GL_TEXTURE_2D, picture.depth());
        glUniform1i(lights.place("depths"), 0);
        const double r = cloth.yarnRadius * s.view.pixelsPerMm;
        put(lights.place("radius"), r / s.view.width, r / s.view.height);
        put(lights.place("range"), 2 * s.deep / cloth.yarnRadius);
        put(lights.place("light"), s.light);
        glBindVertexArray(nothing);
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }

    void drawDone(const Scene& s, bool lit) const {
        done.begin();
        glDisable(GL_DEPTH_TEST);
        finish.use();
        glActiveTexture(GL_TEXTURE2);
        glBindTexture(GL_TEXTURE_2D, shadow.texture());
        glActiveTexture(GL_TEXTURE1);
        glBindTexture(GL_TEXTURE_2D, light.texture());
        glActiveTexture(GL_TEXTURE0);
        glBindTexture(GL_TEXTURE_2D, picture.texture());
        glUniform1i(finish.place("picture"), 0);
        glUniform1i(finish.place("lights"), 1);
        glUniform1i(finish.place("shadow"), 2);
        put(finish.place("blur"), 1.6 / shadow.width(), 1.6 / shadow.height());
        put(finish.place("ground"), s.style.ground);
        glUniform1i(finish.place("shadows"), s.style.shadows ? 1 : 0);
        glUniform1i(finish.place("lit"), lit ? 1 : 0);
        glBindVertexArray(nothing);
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }

    bool draw(const View& view, const ClothStyle& style, const std::vector<ClothMark>& list) {
        const Borrowed borrowed;
        Scene s;
        s.view = view;
        s.style = style;
        s.axes = view.axes();
        s.light = towardLight(style.lightDegrees);
        s.scale = std::clamp(style.smooth, 1, 4);
        const bool lit = style.shadows && style.look == ClothLook::wool;
        const int w = std::max(1, view.width);
        const int h = std::max(1, view.height);
        if (!picture.resize(w * s.scale, h * s.scale) || !done.resize(w, h) ||
            !shadow.resize((w + 3) / 4, (h + 3) / 4) ||
            !light.resize((w * s.scale + 1) / 2, (h * s.scale + 1) / 2))
            return false;
        // A ball round all of the cloth is deep enough, whichever way it is turned.
        ClothBounds all = cloth.bounds;
        if (ghost.count > 0) {
            all.add(ghost.bounds.low);
            all.add(ghost.bounds.high);
        }
        const Point3 c{view.centre.x, view.centre.y, 0};
        double far = 1;
        if (!all.empty()) {
            for (const double x : {all.low.x, all.high.x}) {
                for (const double y : {all.low.y, all.high.y}) {
                    for (const double z : {all.low.z, all.high.z})
                        far = std::max(far, std::abs(s.axes.seen(Point3{x, y, z} - c).z));
                }
            }
        }
        s.deep = far + 4 * cloth.yarnRadius;
        putMarks(list);
        if (style.shadows) drawShadow(s);
        picture.begin();
        glEnable(GL_DEPTH_TEST);
        glDepthFunc(GL_LESS);
        glDepthMask(GL_TRUE);
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
        if (cloth.count > 0) {
            setRibbons(s, 1);
            cloth.draw();
            if (lit) drawLight(s);
            picture.begin();
            glEnable(GL_DEPTH_TEST);
            glActiveTexture(GL_TEXTURE0);
            glBindTexture(GL_TEXTURE_2D, marks);
            const std::uint8_t pointed = bitOf(MarkKind::pointedAt);
            drawHalos(s, bitOf(MarkKind::evidence), pointed, 1.55, safeColour(2));
            drawHalos(s, pointed, 0, 2.1, safeColour(1));
        }
        if (ghost.count > 0) drawGhost(s);
        drawDone(s, lit && cloth.count > 0);
        return true;
    }
};

ClothRenderer::ClothRenderer(std::unique_ptr<State> state) : state_(std::move(state)) {}
ClothRenderer::ClothRenderer(ClothRenderer&&) noexcept = default;
ClothRenderer& ClothRenderer::operator=(ClothRenderer&&) noexcept = default;
ClothRenderer::~ClothRenderer() = default;

tl::expected<ClothRenderer, std::string> ClothRenderer::made() {
    auto state = std::make_unique<State>();
    struct Wanted {
        GlProgram* program;
        const char* what;
        const char* vertex;
        const char* fragment;
    };
    for (const Wanted& w : {Wanted{&state->ribbons, "yarn", kRibbonVertex, kRibbonFragment},
                            Wanted{&state->halos, "halo", kRibbonVertex, kHaloFragment},
                            Wanted{&state->shadows, "shadow", kRibbonVertex, kShadowFragment},
                            Wanted{&state->lights, "light", kWholeVertex, kLightFragment},
                            Wanted{&state->finish, "picture", kWholeVertex, kFinishFragment}}) {
        auto program = GlProgram::linked(w.what, w.vertex, w.fragment);
        if (!program) return tl::unexpected(program.error());
        *w.program = std::move(*program);
    }
    glGenVertexArrays(1, &state->nothing);
    glGenTextures(1, &state->marks);
    glBindTexture(GL_TEXTURE_2D, state->marks);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glBindTexture(GL_TEXTURE_2D, 0);
    return ClothRenderer(std::move(state));
}

void ClothRenderer::upload(const RibbonMesh& mesh) {
    state_->cloth.put(mesh, mesh.indices);
}

void ClothRenderer::uploadGhost(const RibbonMesh& mesh, const std::vector<EntryId>& only) {
    if (only.empty()) {
        state_->ghost.put(mesh, mesh.indices);
        return;
    }
    std::vector<std::uint32_t> chosen;
    for (const RibbonMesh::Stretch& s : mesh.stretches) {
        if (!s.entry || std::find(only.begin(), only.end(), s.entry) == only.end()) continue;
        const auto from = mesh.indices.begin() + static_cast<std::ptrdiff_t>(s.firstIndex);
        chosen.insert(chosen.end(), from, from + static_cast<std::ptrdiff_t>(s.indexCount));
    }
    state_->ghost.put(mesh, chosen);
}

void ClothRenderer::dropGhost() {
    state_->ghost.count = 0;
    state_->ghost.stretches.clear();
}

bool ClothRenderer::draw(const View& view, const ClothStyle& style, const std::vector<ClothMark>& marks) {
    return state_->draw(view, style, marks);
}

unsigned ClothRenderer::texture() const {
    return state_->done.texture();
}
int ClothRenderer::width() const {
    return state_->done.width();
}
int ClothRenderer::height() const {
    return state_->done.height();
}

std::vector<std::uint8_t> ClothRenderer::rgb() const {
    const int w = width();
    const int h = height();
    int before = 0;
    glGetIntegerv(GL_FRAMEBUFFER_BINDING, &before);
    std::vector<std::uint8_t> rgba(static_cast<std::size_t>(w) * static_cast<std::size_t>(h) * 4);
    glBindFramebuffer(GL_FRAMEBUFFER, state_->done.buffer());
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, w, h, GL_RGBA, GL_UNSIGNED_BYTE, rgba.data());
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(before));
    std::vector<std::uint8_t> rgb;
    rgb.reserve(rgba.size() / 4 * 3);
    for (int y = h - 1; y >= 0; --y) {
        const std::size_t row = static_cast<std::size_t>(y) * static_cast<std::size_t>(w) * 4;
        for (std::size_t x = 0; x < static_cast<std::size_t>(w) * 4; x += 4)
            rgb.insert(rgb.end(), {rgba[row + x], rgba[row + x + 1], rgba[row + x + 2]});
    }
    return rgb;
}

}  // namespace loopmend::app
