// SPDX-License-Identifier: MIT
#include "app/sign_pictures.h"

#include <algorithm>

#include <fmt/format.h>

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>

#include "picture/drawing.h"
#include "picture/paper/paper.h"
#include "picture/paper/pixels.h"
#include "repair/builder.h"

namespace loopmend::app {

namespace {

bool isWide(OddSign sign) {
    return sign == OddSign::none || sign == OddSign::hole || sign == OddSign::noHole ||
           sign == OddSign::ladder || sign == OddSign::freeLoop || sign == OddSign::tall ||
           sign == OddSign::acrossStrand;
}

bool isSame(const CaseStart& a, const CaseStart& b) {
    return a.pattern == b.pattern && a.ground == b.ground && a.stitches == b.stitches &&
           a.rowsDone == b.rowsDone && a.setup.mirrored == b.setup.mirrored;
}

void forgetOne(const SignPictures::Picture& picture) {
    if (picture.texture != 0) glDeleteTextures(1, &picture.texture);
}

}  // namespace

SignPictures::~SignPictures() {
    forget();
}

void SignPictures::forget() {
    for (const auto& [key, picture] : pictures_) forgetOne(picture);
    for (const auto& [key, both] : explained_) {
        if (!both) continue;
        forgetOne(both->meant);
        forgetOne(both->actual);
    }
    pictures_.clear();
    explained_.clear();
}

void SignPictures::begin(const CaseStart& hers, const Dress& dress) {
    if (!hers_ || !isSame(*hers_, hers)) {
        forget();
        hers_ = hers;
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
    if (pictures_.count(key) > 0) return made(key, nullptr, Side::right);
    CaseStart start;
    start.ground = ground;
    SignExamples examples(start);
    return made(key, examples.of(CasePicture::nothing), Side::right);
}

const SignPictures::Explained* SignPictures::of(const Case& its, const CaseExplanation& explanation) {
    if (!explanation.fault) return nullptr;
    const FaultPlace& at = *explanation.fault;
    const std::string key =
        fmt::format("{} {} {} {} {}", at.id, at.row, at.stitch, at.rows, static_cast<int>(explanation.after));
    auto known = explained_.find(key);
    if (known == explained_.end()) {
        std::optional<Explained> both;
        if (const auto up = closeUpOf(its, explanation)) {
            const auto as = [&](const Fabric& fabric) {
                return drawn({&fabric, up->row, up->column, up->sign, up->side}, kCloseUpHeight);
            };
            both = Explained{as(*up->meant), as(*up->actual), up->side};
            if (both->meant.texture == 0 || both->actual.texture == 0) both.reset();
        }
        known = explained_.emplace(key, both).first;
    }
    return known->second ? &*known->second : nullptr;
}

const SignPictures::Picture* SignPictures::made(int key, const SignExamples::Example* example, Side side) {
    auto known = pictures_.find(key);
    if (known == pictures_.end()) {
        Picture picture;
        if (example != nullptr)
            picture = drawn({example->fabric.get(), example->row, example->column, example->sign, side},
                            kSignPictureHeight);
        known = pictures_.emplace(key, picture).first;
    }
    return known->second.texture != 0 ? &known->second : nullptr;
}

SignPictures::Picture SignPictures::drawn(const Place& place, float height) const {
    DrawingOptions options;
    options.side = place.side;
    // Holes and ladders want some cloth around them, single stitches are looked at closely.
    const int around = isWide(place.sign) ? 2 : 1;
    options.firstRow = std::max(0, place.row - 1);
    options.lastRow = place.row + around;
    options.firstStitch = std::max(1, place.column - around);
    options.lastStitch = place.column + around;
    options.style = YarnStyle::wool;
    options.dark = dress_.dark;
    const auto part = [&](unsigned shift) { return ((dress_.wool >> shift) & 0xFFU) / 255.0; };
    options.firstYarn = Colour{part(0), part(8), part(16)};
    options.rowNumbers = options.caption = false;
    Drawing drawing = drawingOf(*place.fabric, options);
    constexpr double kWidest = 2.5;
    if (drawing.widthMm > kWidest * drawing.heightMm) {
        // Where part of a row was worked, columns lie apart: the stitch itself, and what is about it.
        const StitchPlaces places(*place.fabric);
        if (place.row <= places.lastRow())
            for (const LoopId loop : places.rows()[static_cast<std::size_t>(place.row)])
                if (places.of(loop).column == place.column) options.about = {loop};
        drawing = drawingOf(*place.fabric, options);
    }
    PaperOptions paper;
    paper.pixelsPerMm = height * dress_.pixels / std::max(1.0, drawing.heightMm);
    const auto png = onPaper(drawing, PaperFormat::png, paper);
    const auto pixels = png ? pixelsOf(*png) : tl::expected<Pixels, std::string>(tl::unexpect, png.error());
    if (!pixels) return {};
    Picture picture;
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
    return picture;
}

}  // namespace loopmend::app
