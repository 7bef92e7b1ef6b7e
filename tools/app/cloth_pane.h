// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/cloth_worker.h"
#include "app/frame_buffer.h"
#include "app/gl/cloth_renderer.h"
#include "app/style.h"
#include "picture/pick.h"
#include "picture/ribbons.h"
#include "picture/view.h"
#include "repair/moves.h"

namespace loopmend::app {

/// A rectangle of the window, in window units.
struct Box {
    float left = 0, top = 0, right = 0, bottom = 0;
    float width() const { return right - left; }
    float height() const { return bottom - top; }
    friend bool operator==(const Box& a, const Box& b) {
        return a.left == b.left && a.top == b.top && a.right == b.right && a.bottom == b.bottom;
    }
    bool contains(float x, float y) const { return x >= left && x < right && y >= top && y < bottom; }
};

/// What is lit beside what the page lights.
enum class Light : std::uint8_t { none, row, column, parts, yarn };

/// How the cloth is looked at; nothing on the table changes with it.
struct Looking {
    bool both = false;     ///< the other side lies beside it
    bool drawing = false;  ///< as a technique drawing, else wool
    bool slant = false;    ///< light from the side
    double tilt = 0;       ///< degrees, by her
    double turn = 0;
    bool pulled = false;  ///< gently, sideways
    Light light = Light::none;
};

/// The cloth as it fills the window: laid and relaxed behind, drawn when something changed, pointed at.
class ClothPane {
  public:
    explicit ClothPane(std::function<void()> wake);
    /// In a current GL context. One sentence if the cloth cannot be drawn.
    std::optional<std::string> begin();

    /// What is to be shown: a cloth, another number after each change of it, and the side that is seen.
    struct Piece {
        const Fabric& fabric;
        std::uint64_t version = 0;
        Side seen = Side::right;
    };
    /// Another piece lies there.
    void lay(const Piece& piece, const ClothOptions& options);
    /// How movement is shown.
    struct Pace {
        bool stillness = false;  ///< nothing moves by itself; changes are there at once
        bool frozen = false;     ///< everything stays as it is in the middle of a movement
        bool slow = false;       ///< in slow motion
    };
    /// Tells of changes of the fabric, takes what the worker has, moves what is moving. True: draw again
    /// soon.
    bool update(const Piece& piece, double seconds, const Pace& pace);

    /// `box` is where it is shown; scale: pixels to a window unit.
    struct Dress {
        bool dark = false;
        Ink ground = 0;
        int wool = 0;        ///< which of the picture's wools the first yarn is
        bool smooth = true;  ///< finer edges at rest
    };
    void draw(const Box& box, float scale, const Dress& dress, const std::vector<ClothMark>& marks);
    /// The pictures of the last `draw`: of the side seen and, beside it, of the other one.
    struct Shown {
        unsigned texture = 0;
        Box box;
        Side side = Side::right;
    };
    const std::vector<Shown>& shown() const { return shown_; }
    /// What a move would lead to is drawn over the cloth, once it lies still; nothing: no ghost.
    /// `tryOut` calls what it is given with the fabric as the move would make it.
    using TryOut = std::function<void(const std::function<void(const Fabric&)>& look)>;
    void showGhost(std::uint64_t version, const std::optional<Move>& move, const TryOut& tryOut);
    /// The picture of the side seen, without the papers.
    Pixels picture() const;

    // ---- pointing; positions in window units
    /// What lies there, in whichever picture it is.
    std::optional<Picked> at(float x, float y) const;
    /// The side that the picture there shows; none: no picture is there.
    std::optional<Side> sideAt(float x, float y) const;
    /// Where something is drawn, and whether it can be seen there.
    /// which: 0 the picture of the side seen, 1 the one beside it.
    std::optional<DrawnPlace> whereIs(EntryId entry, std::size_t which = 0) const;
    std::optional<DrawnPlace> whereIs(ToolId tool) const;
    std::size_t pictures() const { return panes_.size(); }

    // ---- looking
    Looking looking;
    void asYouHoldIt();
    void nearer(double factor, float x, float y);
    void nearerMiddle(double factor);
    void moveBy(float dx, float dy);
    /// A quick pull at the cloth that springs back.
    void tug();
    /// The yarn lies at rest and nothing moves.
    bool still() const;
    const std::string& trouble() const { return trouble_; }
    /// Where the working yarn comes to its end, and which way it lies there (window units, length 1); none
    /// while nothing is drawn or no ball is left.
    struct YarnEnd {
        PixelPoint at;
        PixelPoint way;
        double yarnPixels = 0;  ///< across
    };
    std::optional<YarnEnd> ballEnd() const;
    /// The colour of the first yarn.
    Ink woolInk(bool dark, int wool) const;

  private:
    void showNoGhost();
    std::vector<EntryId> ghostEntries() const;
    View viewOf(Side side, const Box& box) const;

    ClothWorker worker_;
    std::optional<ClothRenderer> front_;
    std::optional<ClothRenderer> back_;  ///< the other side, beside it
    std::vector<Shown> shown_;
    std::shared_ptr<const Path> path_;
    std::uint64_t told_ = 0;
    std::shared_ptr<const Fabric> fabric_;  ///< as the path knows it
    std::string trouble_;
    ClothBounds bounds_;
    bool fitWanted_ = true;
    bool meshStale_ = true;
    double meshDetail_ = 0;
    bool resting_ = false;  ///< the worker has said that it lies still
    bool pictureStale_ = true;
    bool frozen_ = false;

    /// What the last picture was made of besides yarn and view, which say by themselves that they changed.
    struct Drawn {
        Box box;
        float scale = 0;
        ClothLook look = ClothLook::wool;
        bool dark = false;
        int smooth = 0;
        bool both = false;
        bool slant = false;
        std::vector<ClothMark> marks;

        friend bool operator==(const Drawn& a, const Drawn& b) {
            return a.box == b.box && a.scale == b.scale && a.look == b.look && a.dark == b.dark &&
                   a.smooth == b.smooth && a.both == b.both && a.slant == b.slant &&
                   std::equal(a.marks.begin(), a.marks.end(), b.marks.begin(), b.marks.end(),
                              [](const ClothMark& x, const ClothMark& y) {
                                  return x.entry == y.entry && x.kind == y.kind;
                              });
        }
    };
    Drawn drawn_;

    /// One picture as it was drawn last, window units.
    struct Pane {
        Box box;
        View view;
        Picker picker;
    };
    const Pane* paneAt(float x, float y) const;
    std::vector<Pane> panes_;
    Box box_;
    View view_;  ///< of the last picture, window units
    Side shownSide_ = Side::right;
    double zoom_ = 1;  ///< of the view that fits
    Point2 shift_;     ///< mm
    double flip_ = 0;  ///< 1 just begun to turn over, 0: done
    double pullNow_ = 1;
    double tugLeft_ = 0;  ///< seconds
    std::optional<Move> ghostMove_;
    std::uint64_t ghostVersion_ = 0;
    std::optional<GhostState> ghost_;
    bool ghostStale_ = false;
};

}  // namespace loopmend::app
