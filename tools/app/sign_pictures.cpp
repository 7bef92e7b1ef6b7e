// SPDX-License-Identifier: MIT
#include "app/sign_pictures.h"

#include <algorithm>

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>

#include "picture/drawing.h"
#include "picture/paper/paper.h"
#include "picture/paper/pixels.h"

namespace loopmend::app {

namespace {

bool isWide(OddSign sign) {
    return sign == OddSign::none || sign == OddSign::hole || sign == OddSign::noHole ||
           sign == OddSign::ladder || sign == OddSign::freeLoop || sign == OddSign::tall ||
           sign == OddSign::acrossStrand;
}

tl::expected<Pixels, std::string> pixelsOf(const SignExamples::Example& example, Side side,
                                           const SignPictures::Dress& dress) {
    DrawingOptions options;
    options.side = side;
    // Holes and ladders want some cloth around them, single stitches are looked at closely.
    const int around = isWide(example.sign) ? 2 : 1;
    options.firstRow = std::max(0, example.row - 1);
    options.lastRow = example.row + around;
    options.firstStitch = std::max(1, example.column - around);
    options.lastStitch = example.column + around;
    options.style = YarnStyle::wool;
    options.dark = dress.dark;
    const auto part = [&](unsigned shift) { return ((dress.wool >> shift) & 0xFFU) / 255.0; };
    options.firstYarn = Colour{part(0), part(8), part(16)};
    options.rowNumbers = options.caption = false;
    const Drawing drawing = drawingOf(*example.fabric, options);
    PaperOptions paper;
    paper.pixelsPerMm = dress.pixels / std::max(1.0, drawing.heightMm);
    const auto png = onPaper(drawing, PaperFormat::png, paper);
    if (!png) return tl::unexpected<std::string>(png.error());
    return loopmend::pixelsOf(*png);
}

}  // namespace

SignPictures::~SignPictures() {
    forget();
}

void SignPictures::forget() {
    for (const auto& [key, picture] : pictures_)
        if (picture.texture != 0) glDeleteTextures(1, &picture.texture);
    pictures_.clear();
}

void SignPictures::begin(const CaseStart& hers, const Dress& dress) {
    const std::tuple<std::string, CaseGround, bool> now(hers.pattern, hers.ground, hers.setup.mirrored);
    if (!examples_ || now != hers_) {
        forget();
        hers_ = now;
        examples_ = std::make_unique<SignExamples>(hers);
    }
    if (!(dress == dress_)) forget();
    dress_ = dress;
}

const SignPictures::Picture* SignPictures::of(const CaseNote& note) {
    if (!examples_) return nullptr;
    if (note.kind == CaseNote::Kind::picture)
        return made(-1 - static_cast<int>(note.picture), examples_->of(note.picture), Side::right);
    const bool sign = note.kind == CaseNote::Kind::look &&
                      (note.seen.what == Sighting::What::sign || note.seen.what == Sighting::What::place) &&
                      note.seen.oddity != OddSign::other;
    if (!sign) return nullptr;
    const int key = 2 * static_cast<int>(note.seen.oddity) + (note.look.side == Side::right ? 0 : 1);
    return made(key, examples_->of(note.seen.oddity, note.look.side), note.look.side);
}

const SignPictures::Picture* SignPictures::of(CaseGround ground) {
    if (ground == CaseGround::unknown) return nullptr;
    const int key = -1 - kCasePictures - 1 - static_cast<int>(ground);
    if (const auto known = pictures_.find(key); known != pictures_.end())
        return made(key, nullptr, Side::right);
    CaseStart start;
    start.ground = ground;
    SignExamples examples(start);
    return made(key, examples.of(CasePicture::nothing), Side::right);
}

const SignPictures::Picture* SignPictures::made(int key, const SignExamples::Example* example, Side side) {
    if (const auto known = pictures_.find(key); known != pictures_.end())
        return known->second.texture != 0 ? &known->second : nullptr;
    Picture& picture = pictures_[key];
    if (example == nullptr) return nullptr;
    const auto pixels = pixelsOf(*example, side, dress_);
    if (!pixels) return nullptr;
    picture.width = pixels->width;
    picture.height = pixels->height;
    glGenTextures(1, &picture.texture);
    glBindTexture(GL_TEXTURE_2D, picture.texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, picture.width, picture.height, 0, GL_RGB, GL_UNSIGNED_BYTE,
                 pixels->rgb.data());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    return &picture;
}

}  // namespace loopmend::app
