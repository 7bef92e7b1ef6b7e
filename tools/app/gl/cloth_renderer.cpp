// SPDX-License-Identifier: MIT
#include "app/gl/cloth_renderer.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "app/gl/program.h"
#include "app/gl/shaders.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>

namespace loopmend::app {

namespace {

constexpr std::size_t kYarns = 8;
constexpr double kPliesFrom = 1.3;  ///< pixels of radius from which plies are seen
constexpr double kPliesAll = 3.2;
constexpr double kFibersFrom = 4;
constexpr double kDegree = 3.14159265358979323846 / 180;

constexpr double kGhost = 0.74;  ///< how solid a ghost is
/// Wool is loftier than the hard core that nothing enters; drawn yarn leaves room for its neighbor's outline.
constexpr double kWoolGrow = 1.26;
constexpr double kDrawingGrow = 0.92;
constexpr Colour kTools[] = {{0.84, 0.70, 0.47}, {0.70, 0.72, 0.74}, {0.95, 0.82, 0.25}};

/// Bits of what is said about an entry, as the programs know them.
constexpr std::uint8_t bitOf(MarkKind kind) {
    return static_cast<std::uint8_t>(1U << static_cast<unsigned>(kind));
}

/// Where the programs find what the vertices bring.
enum Attribute : unsigned { kAt, kAlong, kThick, kKind, kEdge };

/// A mesh on the card.
struct MeshOnCard {
    unsigned array = 0;
    unsigned vertices = 0;
    unsigned indices = 0;
    int count = 0;     ///< indices of ribbons, then
    int knuckles = 0;  ///< of knuckles
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

    void put(const RibbonMesh& mesh, const std::vector<std::uint32_t>& chosen,
             const std::vector<std::uint32_t>& balls) {
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
            whole(kKind, 4, GL_UNSIGNED_BYTE, offsetof(RibbonVertex, colour));
            floats(kEdge, 2, GL_BYTE, offsetof(RibbonVertex, edge));
        }
        glBindVertexArray(array);
        glBindBuffer(GL_ARRAY_BUFFER, vertices);
        glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.vertices.size() * sizeof(RibbonVertex)),
                     mesh.vertices.data(), GL_DYNAMIC_DRAW);
        std::vector<std::uint32_t> all = chosen;
        all.insert(all.end(), balls.begin(), balls.end());
        glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(all.size() * sizeof(std::uint32_t)),
                     all.data(), GL_DYNAMIC_DRAW);
        glBindVertexArray(0);
        count = static_cast<int>(chosen.size());
        knuckles = static_cast<int>(balls.size());
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
    void drawKnuckles() const {
        if (knuckles == 0) return;
        glBindVertexArray(array);
        glDrawElements(
            GL_TRIANGLES, knuckles, GL_UNSIGNED_INT,
            reinterpret_cast<const void*>(static_cast<std::size_t>(count) * sizeof(std::uint32_t)));
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

bool sameView(const View& a, const View& b) {
    return a.side == b.side && a.tiltDegrees == b.tiltDegrees && a.turnDegrees == b.turnDegrees &&
           a.pixelsPerMm == b.pixelsPerMm && a.centre.x == b.centre.x && a.centre.y == b.centre.y &&
           a.pull == b.pull && a.mirrored == b.mirrored && a.width == b.width && a.height == b.height;
}
bool sameStyle(const ClothStyle& a, const ClothStyle& b) {
    return a.look == b.look && a.dark == b.dark && a.ground == b.ground && a.smooth == b.smooth &&
           a.shadows == b.shadows && a.lightDegrees == b.lightDegrees && a.yarns == b.yarns;
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
    GlProgram ribbons[16];  ///< by what is defined in them, made when they are wanted
    GlProgram halos;
    GlProgram shadows;
    GlProgram lights;
    GlProgram finish;
    GlCanvas bare{GlCanvas::Kind::colourAndDepth};  ///< the cloth without marks, kept while it stays as it is
    GlCanvas picture{GlCanvas::Kind::colourAndDepth};  ///< with marks and ghost
    GlCanvas shadow{GlCanvas::Kind::shade};
    GlCanvas light{GlCanvas::Kind::shade};
    GlCanvas done{GlCanvas::Kind::colour};
    MeshOnCard cloth;
    MeshOnCard ghost;
    unsigned nothing = 0;  ///< an array object for triangles that need no vertices

    struct Scene {
        View view;
        ClothStyle style;
        ViewAxes axes;
        Point3 light;
        double deep = 1;  ///< half the depth of the picture, mm
        int scale = 1;
    };
    std::optional<Scene> bareOf;  ///< what `bare` shows

    ~State() {
        if (nothing != 0) glDeleteVertexArrays(1, &nothing);
    }

    enum Define : unsigned { kWool = 1, kMarks = 2, kFibers = 4, kKnuckle = 8 };
    tl::expected<void, std::string> makeRibbons(unsigned defined) {
        std::string defines;
        if ((defined & kWool) != 0) defines += "#define WOOL\n";
        if ((defined & kMarks) != 0) defines += "#define MARKS\n";
        if ((defined & kFibers) != 0) defines += "#define FIBERS\n";
        if ((defined & kKnuckle) != 0) defines += "#define KNUCKLE\n";
        auto program = GlProgram::linked("yarn", kRibbonVertex, kRibbonFragment, defines);
        if (!program) return tl::unexpected(program.error());
        ribbons[defined] = std::move(*program);
        return {};
    }

    void setView(const GlProgram& program, const Scene& s, double grow) const {
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
        put(program.place("grow"), grow);
        put(program.place("pixels"), s.view.pixelsPerMm * s.scale);
        glUniform1i(program.place("rightSide"), s.view.side == Side::right ? 1 : 0);
    }

    /// The program for a look, ready to draw.
    void setRibbons(const Scene& s, double alpha, std::uint8_t mark, double nearer, bool knuckle = false) {
        const bool wool = s.style.look == ClothLook::wool;
        const double px = cloth.yarnRadius * s.view.pixelsPerMm * s.scale;
        unsigned defined =
            (wool ? kWool : 0U) | (mark != 0 ? kMarks : 0U) | (wool && px > kFibersFrom ? kFibers : 0U);
        if (knuckle) defined = (wool ? kWool : 0U) | kKnuckle;
        if (!ribbons[defined] && !makeRibbons(defined)) defined = wool ? kWool : 0U;
        const GlProgram& program = ribbons[defined];
        setView(program, s, wool ? kWoolGrow : kDrawingGrow);
        put(program.place("hand"), s.axes.hand);
        put(program.place("alpha"), alpha);
        put(program.place("nearer"), nearer);
        // Three plies, each once round in so many radii.
        put(program.place("plyTurn"), 0.55 * 3 / (2 * 3.14159265) / cloth.yarnRadius);
        put(program.place("plies"), std::clamp((px - kPliesFrom) / (kPliesAll - kPliesFrom), 0.0, 1.0));
        put(program.place("light"), s.light);
        put(program.place("paleInk"), s.style.dark ? Colour{0.90, 0.90, 0.88} : Colour{0.02, 0.02, 0.02});
        glUniform1i(program.place("mark"), mark);
        const std::vector<Colour> usual = yarnColours(s.style.look, s.style.dark);
        float values[3 * (kYarns + 3)];
        for (std::size_t i = 0; i < kYarns + 3; ++i) {
            Colour c = i < kYarns ? usual[i] : kTools[i - kYarns];
            if (i < kYarns && i < s.style.yarns.size()) c = s.style.yarns[i];
            values[3 * i] = static_cast<float>(c.r);
            values[3 * i + 1] = static_cast<float>(c.g);
            values[3 * i + 2] = static_cast<float>(c.b);
        }
        glUniform3fv(program.place("yarns"), kYarns + 3, values);
    }

    void whole() const {
        glDisable(GL_DEPTH_TEST);
        glBindVertexArray(nothing);
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }

    static void bind(unsigned unit, unsigned texture) {
        glActiveTexture(GL_TEXTURE0 + unit);
        glBindTexture(GL_TEXTURE_2D, texture);
    }

    void drawShadow(const Scene& s) const {
        shadow.begin();
        shadows.use();
        bind(0, bare.texture());
        glUniform1i(shadows.place("picture"), 0);
        const double r = cloth.yarnRadius * s.view.pixelsPerMm;
        put(shadows.place("away"), 1.9 * r * s.light.x / s.view.width, 1.9 * r * s.light.y / s.view.height);
        put(shadows.place("blur"), 1.6 * r / s.view.width, 1.6 * r / s.view.height);
        whole();
    }

    void drawLight(const Scene& s) const {
        light.begin();
        lights.use();
        bind(0, bare.depth());
        glUniform1i(lights.place("depths"), 0);
        const double r = cloth.yarnRadius * s.view.pixelsPerMm;
        put(lights.place("radius"), r / s.view.width, r / s.view.height);
        put(lights.place("range"), 2 * s.deep / cloth.yarnRadius);
        put(lights.place("light"), s.light);
        whole();
    }

    void drawBare(const Scene& s) {
        bare.begin();
        glEnable(GL_DEPTH_TEST);
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
        if (cloth.count > 0) {
            setRibbons(s, 1, 0, 0);
            cloth.draw();
            setRibbons(s, 1, 0, 0, true);
            cloth.drawKnuckles();
        }
        if (s.style.shadows) {
            drawShadow(s);
            if (s.style.look == ClothLook::wool) drawLight(s);
        }
    }

    /// Draws the stretches of a mesh that carry a mark.
    void drawMarked(const std::vector<std::uint8_t>& marked, std::uint8_t bits, std::uint8_t butNot,
                    bool exactly) const {
        std::vector<int> counts;
        std::vector<const void*> starts;
        for (const RibbonMesh::Stretch& part : cloth.stretches) {
            if (!part.entry || static_cast<std::size_t>(part.entry.value) >= marked.size()) continue;
            const std::uint8_t m = marked[static_cast<std::size_t>(part.entry.value)];
            if (exactly ? m != bits : (m & bits) == 0 || (m & butNot) != 0) continue;
            counts.push_back(static_cast<int>(part.indexCount));
            starts.push_back(reinterpret_cast<const void*>(std::size_t{part.firstIndex} * 4));
        }
        if (counts.empty()) return;
        glBindVertexArray(cloth.array);
        glMultiDrawElements(GL_TRIANGLES, counts.data(), GL_UNSIGNED_INT, starts.data(),
                            static_cast<int>(counts.size()));
    }

    void drawMarks(const Scene& s, const std::vector<ClothMark>& list) {
        std::vector<std::uint8_t> marked;
        bool used[32] = {};
        for (const ClothMark& m : list) {
            if (!m.entry) continue;
            const auto e = static_cast<std::size_t>(m.entry.value);
            if (marked.size() <= e) marked.resize(e + 1, 0);
            marked[e] = static_cast<std::uint8_t>(marked[e] | bitOf(m.kind));
        }
        for (const std::uint8_t m : marked) used[m] = m != 0;
        for (std::size_t m = 1; m < 32; ++m) {
            if (!used[m]) continue;
            // Once more over itself, a hair nearer; what is pointed at comes out of its neighbors.
            const bool pointed = (m & bitOf(MarkKind::pointedAt)) != 0;
            setRibbons(s, 1, static_cast<std::uint8_t>(m), (pointed ? 0.75 : 0.02) * cloth.yarnRadius);
            drawMarked(marked, static_cast<std::uint8_t>(m), 0, true);
        }
        const auto halo = [&](MarkKind kind, std::uint8_t butNot, double grow, double nearer, Colour colour) {
            setView(halos, s, grow * (s.style.look == ClothLook::wool ? kWoolGrow : kDrawingGrow));
            put(halos.place("halo"), colour);
            put(halos.place("nearer"), nearer * cloth.yarnRadius);
            drawMarked(marked, bitOf(kind), butNot, false);
        };
        halo(MarkKind::evidence, bitOf(MarkKind::pointedAt), 1.5, -0.5, safeColour(2));
        halo(MarkKind::pointedAt, 0, 1.9, 0.65, safeColour(1));
    }

    void drawGhost(const Scene& s) {
        // First the depths alone: what is translucent must not be seen through itself.
        glClear(GL_DEPTH_BUFFER_BIT);
        glDepthFunc(GL_LEQUAL);
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        setRibbons(s, kGhost, 0, 0);
        ghost.draw();
        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
        glEnable(GL_BLEND);
        glBlendFuncSeparate(GL_ONE, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
        ghost.draw();
        glDisable(GL_BLEND);
        glDepthFunc(GL_LESS);
    }

    void drawDone(const Scene& s, const GlCanvas& from) const {
        done.begin();
        finish.use();
        bind(2, shadow.texture());
        bind(1, light.texture());
        bind(0, from.texture());
        glUniform1i(finish.place("picture"), 0);
        glUniform1i(finish.place("lights"), 1);
        glUniform1i(finish.place("shadow"), 2);
        put(finish.place("ground"), s.style.ground);
        put(finish.place("dim"), s.style.shadows ? 1.0 : 0.0);
        put(finish.place("lit"), s.style.shadows && s.style.look == ClothLook::wool ? 1.0 : 0.0);
        whole();
    }

    bool draw(const View& view, const ClothStyle& style, const std::vector<ClothMark>& list) {
        const Borrowed borrowed;
        Scene s;
        s.view = view;
        s.view.width = std::max(1, view.width);
        s.view.height = std::max(1, view.height);
        s.style = style;
        s.axes = view.axes();
        s.light = towardLight(style.lightDegrees);
        s.scale = std::clamp(style.smooth, 1, 4);
        const int w = s.view.width;
        const int h = s.view.height;
        const bool marked = !list.empty() || ghost.count > 0;
        if (bare.width() != w * s.scale || bare.height() != h * s.scale) bareOf.reset();
        if (!bare.resize(w * s.scale, h * s.scale) || !done.resize(w, h) ||
            !shadow.resize((w + 3) / 4, (h + 3) / 4) ||
            !light.resize((w * s.scale + 1) / 2, (h * s.scale + 1) / 2) ||
            (marked && !picture.resize(w * s.scale, h * s.scale))) {
            bareOf.reset();
            return false;
        }
        // However it is turned, and with room for the ghost of a hand move.
        double far = 10;
        if (cloth.count > 0) {
            const Point3 c{view.centre.x, view.centre.y, 0};
            const ClothBounds& b = cloth.bounds;
            for (const double x : {b.low.x, b.high.x}) {
                for (const double y : {b.low.y, b.high.y}) {
                    for (const double z : {b.low.z, b.high.z})
                        far = std::max(far, std::abs(s.axes.seen(Point3{x, y, z} - c).z));
                }
            }
        }
        s.deep = 1.2 * far + 20 * cloth.yarnRadius;
        if (!bareOf || !sameView(bareOf->view, s.view) || !sameStyle(bareOf->style, s.style)) {
            drawBare(s);
            bareOf = s;
        }
        if (!marked) {
            drawDone(s, bare);
            return true;
        }
        glBindFramebuffer(GL_READ_FRAMEBUFFER, bare.buffer());
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, picture.buffer());
        glBlitFramebuffer(0, 0, bare.width(), bare.height(), 0, 0, bare.width(), bare.height(),
                          GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT, GL_NEAREST);
        picture.begin();
        glEnable(GL_DEPTH_TEST);
        if (cloth.count > 0 && !list.empty()) drawMarks(s, list);
        if (ghost.count > 0) drawGhost(s);
        drawDone(s, picture);
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
    for (const Wanted& w : {Wanted{&state->halos, "halo", kRibbonVertex, kHaloFragment},
                            Wanted{&state->shadows, "shadow", kWholeVertex, kShadowFragment},
                            Wanted{&state->lights, "light", kWholeVertex, kLightFragment},
                            Wanted{&state->finish, "picture", kWholeVertex, kFinishFragment}}) {
        auto program = GlProgram::linked(w.what, w.vertex, w.fragment);
        if (!program) return tl::unexpected(program.error());
        *w.program = std::move(*program);
    }
    for (const unsigned defined :
         {0U, unsigned{State::kWool}, unsigned{State::kKnuckle}, State::kWool | State::kKnuckle}) {
        const auto ready = state->makeRibbons(defined);
        if (!ready) return tl::unexpected(ready.error());
    }
    glGenVertexArrays(1, &state->nothing);
    return ClothRenderer(std::move(state));
}

void ClothRenderer::upload(const RibbonMesh& mesh) {
    state_->bareOf.reset();
    state_->cloth.put(mesh, mesh.indices, mesh.knuckles);
}

void ClothRenderer::uploadGhost(const RibbonMesh& mesh, const std::vector<EntryId>& only) {
    if (only.empty()) {
        state_->ghost.put(mesh, mesh.indices, {});
        return;
    }
    std::vector<std::uint32_t> chosen;
    for (const RibbonMesh::Stretch& s : mesh.stretches) {
        if (!s.entry || std::find(only.begin(), only.end(), s.entry) == only.end()) continue;
        const auto from = mesh.indices.begin() + static_cast<std::ptrdiff_t>(s.firstIndex);
        chosen.insert(chosen.end(), from, from + static_cast<std::ptrdiff_t>(s.indexCount));
    }
    state_->ghost.put(mesh, chosen, {});
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
    std::vector<std::uint8_t> rgb(rgba.size() / 4 * 3);
    std::size_t to = 0;
    for (int y = h - 1; y >= 0; --y) {
        const std::size_t row = static_cast<std::size_t>(y) * static_cast<std::size_t>(w) * 4;
        for (std::size_t x = 0; x < static_cast<std::size_t>(w) * 4; x += 4) {
            for (std::size_t k = 0; k < 3; ++k) rgb[to++] = rgba[row + x + k];
        }
    }
    return rgb;
}

}  // namespace loopmend::app
