#include "ui/report/pdf_pages.h"

#include <algorithm>
#include <cairo.h>
#include <cmath>
#include <glib.h>
#include <memory>
#include <poppler.h>

namespace becalm::report {
namespace {

template <auto release>
struct Release {
    template <class T>
    void operator()(T* object) const
    {
        release(object);
    }
};
using Bytes = std::unique_ptr<GBytes, Release<g_bytes_unref>>;
using Opened = std::unique_ptr<PopplerDocument, Release<g_object_unref>>;
using Page = std::unique_ptr<PopplerPage, Release<g_object_unref>>;
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Release<cairo_destroy>>;

// `pdf` outlives the document.
std::variant<Opened, PageFault> opened(const std::string& pdf)
{
    const Bytes bytes(g_bytes_new_static(pdf.data(), pdf.size()));
    GError* error = nullptr;
    Opened document(poppler_document_new_from_bytes(bytes.get(), nullptr, &error));
    if (document != nullptr) return document;
    const bool locked = g_error_matches(error, POPPLER_ERROR, POPPLER_ERROR_ENCRYPTED) != FALSE;
    g_clear_error(&error);
    return locked ? PageFault::locked : PageFault::damaged;
}

Page page_of(PopplerDocument* document, int page)
{
    if (page < 1 || page > poppler_document_get_n_pages(document)) return nullptr;
    return Page(poppler_document_get_page(document, page - 1));
}

cairo_status_t append(void* target, const unsigned char* data, unsigned length)
{
    static_cast<std::string*>(target)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

gboolean append_attached(const gchar* data, gsize length, gpointer target, GError**)
{
    static_cast<std::string*>(target)->append(data, length);
    return TRUE;
}

} // namespace

bool is_pdf(std::string_view bytes)
{
    constexpr std::size_t looked_at = 1024;
    return bytes.substr(0, looked_at).find("%PDF-") != std::string_view::npos;
}

std::variant<Picture, PageFault> picture_of_page(const std::string& pdf, int number)
{
    const auto document = opened(pdf);
    if (const auto* fault = std::get_if<PageFault>(&document)) return *fault;
    const Page page = page_of(std::get<Opened>(document).get(), number);
    if (page == nullptr) return PageFault::no_page;
    double width = 0.0, height = 0.0;
    poppler_page_get_size(page.get(), &width, &height);
    constexpr double most_points = 14400.0; // ISO 32000-1, annex C.2, table C.1: the greatest page
    if (!(width >= 1.0 && height >= 1.0 && width <= most_points && height <= most_points)) return PageFault::failed;
    constexpr double dots_per_point = 150.0 / 72.0, most_dots = 6e6;
    const double scale = std::min(dots_per_point, std::sqrt(most_dots / (width * height)));
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                                     std::max(1, static_cast<int>(std::lround(width * scale))),
                                                     std::max(1, static_cast<int>(std::lround(height * scale)))));
    const Context context(cairo_create(surface.get()));
    cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
    cairo_paint(context.get());
    cairo_scale(context.get(), scale, scale);
    poppler_page_render_for_printing(page.get(), context.get());
    Picture picture{.media_type = "image/png", .pdf = pdf, .pdf_page = number, .pdf_size = {width, height}};
    if (cairo_status(context.get()) != CAIRO_STATUS_SUCCESS ||
        cairo_surface_write_to_png_stream(surface.get(), append, &picture.bytes) != CAIRO_STATUS_SUCCESS)
        return PageFault::failed;
    return picture;
}

bool paint_page(_cairo* context, const std::string& pdf, int number)
{
    const auto document = opened(pdf);
    if (std::holds_alternative<PageFault>(document)) return false;
    const Page page = page_of(std::get<Opened>(document).get(), number);
    if (page == nullptr) return false;
    poppler_page_render_for_printing(page.get(), context);
    return cairo_status(context) == CAIRO_STATUS_SUCCESS;
}

std::string attached_to(const std::string& pdf, const std::string& name)
{
    std::string content;
    const auto document = opened(pdf);
    if (std::holds_alternative<PageFault>(document)) return content;
    GList* attachments = poppler_document_get_attachments(std::get<Opened>(document).get());
    for (const GList* at = attachments; at != nullptr; at = at->next) {
        auto* attachment = POPPLER_ATTACHMENT(at->data);
        if (attachment->name == nullptr || attachment->name != name) continue;
        content.clear();
        if (poppler_attachment_save_to_callback(attachment, append_attached, &content, nullptr) == FALSE)
            content.clear();
    }
    g_list_free_full(attachments, g_object_unref);
    return content;
}

} // namespace becalm::report
