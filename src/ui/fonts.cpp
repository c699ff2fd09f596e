#include "ui/fonts.hpp"

#include <cmath>

#include <imgui.h>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::ui {
namespace {

// What the subset files can hold; a code point that a file lacks is skipped by the atlas.
constexpr ImWchar kAll[] = {0x20, 0x7E, 0xA0, 0xFF, 0x152, 0x153, 0x178, 0x178, 0x3A9, 0x3A9,
                            0x3BC, 0x3BC, 0x2013, 0x2014, 0x2018, 0x2019, 0x201C, 0x201E,
                            0x2022, 0x2022, 0x2026, 0x2026, 0x2032, 0x2033, 0x20AC, 0x20AC,
                            0x2190, 0x2193, 0x2212, 0x2212, 0x221E, 0x221E, 0x2248, 0x2248,
                            0x2264, 0x2265, 0};
constexpr ImWchar kFigures[] = {0x20, 0x7E, 0xB5, 0xB5, 0xB0, 0xB0, 0x3A9, 0x3A9, 0x2026, 0x2026,
                                0x2212, 0x2212, 0};

struct Bake {
  Face face;
  float size;
  const ImWchar* ranges;
};

// On a fine screen few sizes are baked and scaled down; on a coarse one each size is exact.
constexpr Bake kFine[] = {{Face::regular, 13.5F, kAll}, {Face::regular, 17, kAll},
                          {Face::bold, 15.5F, kAll},    {Face::bold, 23, kAll},
                          {Face::mono, 17, kAll},       {Face::mono, 32, kFigures},
                          {Face::mono_bold, 24, kFigures}};
constexpr Bake kCoarse[] = {
    {Face::regular, 12.5F, kAll}, {Face::regular, 13, kAll},    {Face::regular, 13.5F, kAll},
    {Face::regular, 14.5F, kAll}, {Face::regular, 15, kAll},    {Face::regular, 15.5F, kAll},
    {Face::regular, 16, kAll},    {Face::regular, 16.5F, kAll}, {Face::regular, 17, kAll},
    {Face::regular, 17.5F, kAll}, {Face::bold, 13, kAll},       {Face::bold, 14, kAll},
    {Face::bold, 15, kAll},       {Face::bold, 15.5F, kAll},    {Face::bold, 16, kAll},
    {Face::bold, 17, kAll},       {Face::bold, 17.5F, kAll},    {Face::bold, 18, kAll},
    {Face::bold, 20, kAll},       {Face::bold, 21, kAll},       {Face::bold, 22, kAll},
    {Face::bold, 23, kAll},       {Face::bold, 27, kAll},       {Face::mono, 13, kAll},
    {Face::mono, 15, kAll},       {Face::mono, 15.5F, kAll},    {Face::mono, 17, kAll},
    {Face::mono, 18, kFigures},   {Face::mono, 20, kFigures},   {Face::mono, 24, kAll},
    {Face::mono, 32, kFigures},   {Face::mono_bold, 22, kFigures},
    {Face::mono_bold, 24, kFigures}};

constexpr float kMostScale = 4;  // no glyph is baked larger than this: the texture stays small

std::uint32_t big16(const unsigned char* at) {
  return (static_cast<std::uint32_t>(at[0]) << 8U) | at[1];
}
std::uint32_t big32(const unsigned char* at) { return (big16(at) << 16U) | big16(at + 2); }
int signed16(const unsigned char* at) {
  const int value = static_cast<int>(big16(at));
  return value > 32767 ? value - 65536 : value;
}

// The atlas wants the height from ascender to descender; we think in ems, as all type does.
// OpenType 1.9: `head` holds unitsPerEm at 18, `hhea` ascender at 4 and descender at 6.
float height_per_em(FontFile file) {
  float units = 1000;
  float height = 1000;
  const std::uint32_t tables = big16(file.data + 4);
  for (std::uint32_t i = 0; i < tables; ++i) {
    const unsigned char* entry = file.data + 12 + to_size(i) * 16;
    const unsigned char* table = file.data + big32(entry + 8);
    if (big32(entry) == 0x68656164U) units = static_cast<float>(big16(table + 18));
    if (big32(entry) == 0x68686561U) {
      height = static_cast<float>(signed16(table + 4) - signed16(table + 6));
    }
  }
  return height / units;
}

// A colon or a point that fills a cell of its own tears a clock or a sum apart: "00: 31: 08". It takes
// half a cell and its ink stands in the middle of it; digits keep theirs, so columns still align.
constexpr float kMarkShare = 0.5F;
bool is_narrow(Face face, char32_t code) {
  const bool mono = face == Face::mono || face == Face::mono_bold;
  return mono && (code == U':' || code == U'.' || code == U',');
}

float on_grid(float value, float dpr) { return std::floor(value * dpr + 0.5F) / dpr; }

}  // namespace

bool Fonts::bake(float dpr, int text_percent) {
  if (dpr == dpr_ && text_percent == text_percent_) return false;
  dpr_ = dpr;
  text_percent_ = text_percent;
  ImFontAtlas* atlas = ImGui::GetIO().Fonts;
  atlas->Clear();
  atlas->Flags |= ImFontAtlasFlags_NoMouseCursors | ImFontAtlasFlags_NoBakedLines;
  baked_.clear();
  const float wanted = dpr * static_cast<float>(text_percent) / 100.0F;
  const float scale = std::min(wanted, kMostScale);
  const bool fine = dpr >= 1.75F;
  const Bake* first = fine ? std::begin(kFine) : std::begin(kCoarse);
  const Bake* last = fine ? std::end(kFine) : std::end(kCoarse);
  for (const Bake* bake = first; bake != last; ++bake) {
    const FontFile file = font_file(bake->face);
    const float em = bake->size * scale;
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    config.OversampleH = config.OversampleV = 1;
    config.GlyphRanges = bake->ranges;
    const float pixels = em * height_per_em(file);
    // The atlas does not write to the data it does not own.
    ImFont* font = atlas->AddFontFromMemoryTTF(const_cast<unsigned char*>(file.data), file.size,
                                               pixels, &config, bake->ranges);
    KP_CHECK(font != nullptr);
    baked_.push_back(Baked{bake->face, em, bake->size * static_cast<float>(text_percent) / 100.0F,
                           font, 0});
  }
  KP_CHECK(atlas->Build());
  for (Baked& baked : baked_) {
    baked.baseline = std::floor(baked.font->Ascent + 0.5F);
    baked.font->Scale = baked.css / baked.size;
  }
  return true;
}

const Fonts::Baked& Fonts::pick(Type type) const {
  const float wanted = scaled(type.size) - 0.01F;
  const Baked* best = nullptr;
  for (const Baked& baked : baked_) {
    if (baked.face != type.face) continue;
    if (best == nullptr || (best->css < wanted ? baked.css > best->css
                                               : baked.css >= wanted && baked.css < best->css)) {
      best = &baked;
    }
  }
  KP_CHECK(best != nullptr);
  return *best;
}

ImFont* Fonts::imgui_font(Type type) const {
  return baked_.empty() ? nullptr : pick(type).font;
}

float Fonts::leading(Type type) const { return std::floor(scaled(type.size) * 1.22F + 0.5F); }

bool Fonts::has(char32_t code) const {
  return code < 0xFFFF && pick(type::kRow).font->FindGlyphNoFallback(
                              static_cast<ImWchar>(code)) != nullptr;
}

float Fonts::width(Type type, std::string_view text) const {
  const Baked& baked = pick(type);
  const float scale = scaled(type.size) / baked.size;
  float width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const char32_t code = next_code(text, at);
    const ImFontGlyph* glyph = code < 0xFFFF
        ? baked.font->FindGlyphNoFallback(static_cast<ImWchar>(code)) : nullptr;
    const float share = is_narrow(type.face, code) ? kMarkShare : 1.0F;
    width += glyph != nullptr ? glyph->AdvanceX * scale * share : scaled(type.size) * 0.6F;
  }
  return width;
}

std::vector<std::string_view> Fonts::wrap(Type type, std::string_view text, float limit) const {
  std::vector<std::string_view> lines;
  std::size_t start = 0;   // of the line
  std::size_t space = 0;   // last place to break at, 0 none
  float width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t before = at;
    const char32_t code = next_code(text, at);
    if (code == U'\n') {
      lines.push_back(text.substr(start, before - start));
      start = at;
      space = 0;
      width = 0;
      continue;
    }
    if (code == U' ') space = before;
    width += this->width(type, text.substr(before, at - before));
    if (width <= limit + 0.5F || code == U' ' || before == start) continue;
    const std::size_t cut = space > start ? space : before;
    lines.push_back(text.substr(start, cut - start));
    start = space > start ? space + 1 : before;
    space = 0;
    width = this->width(type, text.substr(start, at - start));
  }
  if (start < text.size() || lines.empty()) lines.push_back(text.substr(start));
  return lines;
}

void Fonts::draw(ImDrawList* list, Type type, Vec at, Color color, std::string_view text) const {
  const Baked& baked = pick(type);
  const float scale = scaled(type.size) / baked.size;
  const bool exact = std::fabs(scale * dpr_ - 1) < 0.001F;
  const float top = on_grid(at.y, dpr_) - baked.baseline * scale;
  float pen = at.x;
  list->PushTextureID(baked.font->ContainerAtlas->TexID);
  for (std::size_t i = 0; i < text.size();) {
    const char32_t code = next_code(text, i);
    const ImFontGlyph* glyph = code < 0xFFFF
        ? baked.font->FindGlyphNoFallback(static_cast<ImWchar>(code)) : nullptr;
    if (glyph == nullptr) {
      const float w = scaled(type.size) * 0.6F;
      list->AddRect(ImVec2(pen + 1, at.y - ascent(type)), ImVec2(pen + w - 1, at.y), color);
      pen += w;
      continue;
    }
    const bool narrow = is_narrow(type.face, code);
    const float advance = glyph->AdvanceX * scale * (narrow ? kMarkShare : 1.0F);
    if (glyph->Visible != 0U) {
      const float ink = (glyph->X0 + glyph->X1) / 2 * scale;
      const float left = narrow ? pen + advance / 2 - ink : pen;
      const float x = exact ? on_grid(left, dpr_) : left;
      list->PrimReserve(6, 4);
      list->PrimRectUV(ImVec2(x + glyph->X0 * scale, top + glyph->Y0 * scale),
                       ImVec2(x + glyph->X1 * scale, top + glyph->Y1 * scale),
                       ImVec2(glyph->U0, glyph->V0), ImVec2(glyph->U1, glyph->V1), color);
    }
    pen += advance;
  }
  list->PopTextureID();
}

char32_t next_code(std::string_view text, std::size_t& at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(at);
  const std::size_t length = lead < 0x80 ? 1U : lead < 0xC0 ? 0U : lead < 0xE0 ? 2U
                             : lead < 0xF0 ? 3U : lead < 0xF8 ? 4U : 0U;
  if (length == 0 || at + length > text.size()) {
    ++at;
    return 0xFFFD;
  }
  char32_t code = length == 1 ? lead : static_cast<char32_t>(lead & (0xFFU >> (length + 1)));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) {
      ++at;
      return 0xFFFD;
    }
    code = (code << 6U) | (byte(at + i) & 0x3FU);
  }
  at += length;
  return code;
}

}  // namespace kp::ui
