// SPDX-License-Identifier: MIT
#include "picture/paper/pixels.h"

#include <cairo.h>
#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <memory>

namespace loopmend {

namespace {

struct Reader {
    std::string_view rest;
};

cairo_status_t take(void* closure, unsigned char* data, unsigned int length) {
    auto* reader = static_cast<Reader*>(closure);
    if (reader->rest.size() < length) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(data, reader->rest.data(), length);
    reader->rest.remove_prefix(length);
    return CAIRO_STATUS_SUCCESS;
}

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

struct FreeSurface {
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};

}  // namespace

tl::expected<Pixels, std::string> pixelsOf(std::string_view png) {
    Reader reader{png};
    const std::unique_ptr<cairo_surface_t, FreeSurface> surface(
        cairo_image_surface_create_from_png_stream(take, &reader));
    const cairo_status_t status = cairo_surface_status(surface.get());
    if (status != CAIRO_STATUS_SUCCESS) {
        return tl::make_unexpected(std::string("This is no readable png picture: ") +
                                   cairo_status_to_string(status) + ".");
    }
    cairo_surface_flush(surface.get());
    Pixels pixels;
    pixels.width = cairo_image_surface_get_width(surface.get());
    pixels.height = cairo_image_surface_get_height(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    const unsigned char* data = cairo_image_surface_get_data(surface.get());
    for (int y = 0; y < pixels.height; ++y) {
        for (int x = 0; x < pixels.width; ++x) {
            std::uint32_t pixel = 0;
            std::memcpy(&pixel, data + std::ptrdiff_t{y} * stride + std::ptrdiff_t{x} * 4, 4);
            for (const unsigned shift : {16U, 8U, 0U})
                pixels.rgb.push_back(static_cast<std::uint8_t>((pixel >> shift) & 0xFFU));
        }
    }
    return pixels;
}

tl::expected<std::string, std::string> pngOf(const Pixels& pixels) {
    const std::unique_ptr<cairo_surface_t, FreeSurface> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels.width, pixels.height));
    std::string bytes;
    cairo_status_t status = cairo_surface_status(surface.get());
    if (status == CAIRO_STATUS_SUCCESS) {
        cairo_surface_flush(surface.get());
        const int stride = cairo_image_surface_get_stride(surface.get());
        unsigned char* data = cairo_image_surface_get_data(surface.get());
        std::size_t from = 0;
        for (int y = 0; y < pixels.height; ++y) {
            for (int x = 0; x < pixels.width; ++x) {
                std::uint32_t pixel = 0;
                for (int k = 0; k < 3; ++k) pixel = (pixel << 8U) | pixels.rgb.at(from++);
                std::memcpy(data + std::ptrdiff_t{y} * stride + std::ptrdiff_t{x} * 4, &pixel, 4);
            }
        }
        cairo_surface_mark_dirty(surface.get());
        status = cairo_surface_write_to_png_stream(surface.get(), append, &bytes);
    }
    if (status != CAIRO_STATUS_SUCCESS) {
        return tl::make_unexpected(std::string("The picture cannot be made a png: ") +
                                   cairo_status_to_string(status) + ".");
    }
    return bytes;
}

PixelDifference difference(const Pixels& a, const Pixels& b) {
    constexpr int kPatch = 10;
    PixelDifference d;
    if (a.width != b.width || a.height != b.height || a.rgb.size() != b.rgb.size() || a.rgb.empty()) return d;
    d = {0, 0};
    for (int y = 0; y < a.height; y += kPatch) {
        for (int x = 0; x < a.width; x += kPatch) {
            double sum = 0;
            const int right = std::min(x + kPatch, a.width);
            const int bottom = std::min(y + kPatch, a.height);
            for (int v = y; v < bottom; ++v) {
                const auto from = static_cast<std::size_t>(3 * (std::ptrdiff_t{v} * a.width + x));
                const auto to = static_cast<std::size_t>(3 * (std::ptrdiff_t{v} * a.width + right));
                for (std::size_t i = from; i < to; ++i) sum += std::abs(int{a.rgb[i]} - int{b.rgb[i]});
            }
            d.mean += sum;
            d.patch = std::max(d.patch, sum / (255.0 * 3 * (right - x) * (bottom - y)));
        }
    }
    d.mean /= 255.0 * static_cast<double>(a.rgb.size());
    return d;
}

}  // namespace loopmend
