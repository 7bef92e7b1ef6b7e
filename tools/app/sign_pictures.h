// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "app/style.h"
#include "diagnosis/close_up.h"
#include "diagnosis/sign_examples.h"

namespace loopmend::app {

/// How high they are shown beside an answer, in window units at the usual size of letters.
inline constexpr float kSignPictureHeight = 80;
/// And those of an explanation.
inline constexpr float kCloseUpHeight = 116;

/// Small pictures of what to look for, each drawn from a piece of her own knitting with the mistake in it.
/// Made when first asked for and kept; of another knitting or shown otherwise they are made anew. To be used,
/// and to end, in a current GL context.
class SignPictures {
  public:
    SignPictures() = default;
    SignPictures(const SignPictures&) = delete;
    SignPictures& operator=(const SignPictures&) = delete;
    ~SignPictures();

    struct Dress {
        float pixels = 1;  ///< to a window unit
        bool dark = false;
        Ink wool = 0;
        friend bool operator==(const Dress& a, const Dress& b) {
            return a.pixels == b.pixels && a.dark == b.dark && a.wool == b.wool;
        }
    };
    /// Whose knitting, and how it is shown. Cheap where nothing has changed.
    void begin(const CaseStart& hers, const Dress& dress);

    struct Picture {
        unsigned texture = 0;
        int width = 0;  ///< pixels
        int height = 0;
        float aspect() const { return static_cast<float>(width) / static_cast<float>(std::max(1, height)); }
    };
    /// What an answer tells of; none: it tells no sign, or nothing in her pattern shows it.
    const Picture* of(const CaseNote& note);
    /// A ground as it should be, from the right side; none for one that is not known.
    const Picture* of(CaseGround ground);

    /// An explanation held beside what was meant, both from the side on which it shows.
    struct Explained {
        Picture meant;
        Picture actual;
        Side side = Side::right;
    };
    /// None: it is not in the list, or it could not be drawn.
    const Explained* of(const Case& its, const CaseExplanation& explanation);

  private:
    /// Which stitches of which piece.
    struct Place {
        const Fabric* fabric = nullptr;
        int row = 0;
        int column = 0;
        OddSign sign = OddSign::none;
        Side side = Side::right;
    };
    void forget();
    /// height: in window units. No texture: it could not be drawn.
    Picture drawn(const Place& place, float height) const;
    const Picture* made(int key, const SignExamples::Example* example, Side side);

    std::unique_ptr<SignExamples> examples_;
    std::optional<CaseStart> hers_;
    Dress dress_;
    std::map<int, Picture> pictures_;
    std::map<std::string, std::optional<Explained>> explained_;
};

}  // namespace loopmend::app
