// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <memory>
#include <tuple>

#include "app/style.h"
#include "diagnosis/sign_examples.h"

namespace loopmend::app {

/// How high they are shown beside an answer, in window units at the usual size of letters.
inline constexpr float kSignPictureHeight = 80;

/// Small pictures of what to look for, each drawn from a piece of her own knitting with the mistake in it.
/// Made when first asked for and kept; of another knitting or another look they are made anew. To be used,
/// and to end, in a current GL context.
class SignPictures {
  public:
    SignPictures() = default;
    SignPictures(const SignPictures&) = delete;
    SignPictures& operator=(const SignPictures&) = delete;
    ~SignPictures();

    struct Dress {
        int pixels = 0;  ///< high
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
    };
    /// What an answer tells of; none: it tells no sign, or nothing in her pattern shows it.
    const Picture* of(const CaseNote& note);
    /// A ground as it should be, from the right side; none for one that is not known.
    const Picture* of(CaseGround ground);

  private:
    void forget();
    const Picture* made(int key, const SignExamples::Example* example, Side side);

    std::unique_ptr<SignExamples> examples_;
    std::tuple<std::string, CaseGround, bool> hers_;
    Dress dress_;
    std::map<int, Picture> pictures_;
};

}  // namespace loopmend::app
