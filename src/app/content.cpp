#include "app/content.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

#include "base/sha256.hpp"
#include "base/text.hpp"
#include "data/reader.hpp"
#include "job/bind_plan.hpp"
#include "pack/check.hpp"
#include "pack/load.hpp"
#include "scene/svg.hpp"

namespace kp::app {

namespace {

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// "parts/hub-cap.svg" -> "hub-cap".
std::string stem(std::string_view name) {
  const std::size_t slash = name.rfind('/');
  const std::size_t begin = slash == std::string_view::npos ? 0 : slash + 1;
  const std::size_t dot = name.rfind('.');
  return std::string(name.substr(begin, dot == std::string_view::npos ? dot : dot - begin));
}

void report(Content& content, const std::string& file, Findings findings) {
  if (!findings.all().empty() && findings.faults() > 0) {
    content.faults.push_back(FileFindings{file, std::move(findings)});
  }
}

void read_drawing(Content& content, const NamedBytes& file) {
  Findings findings;
  const std::string id = stem(file.name);
  auto drawing = scene::read_drawing(id, file.bytes, findings);
  if (drawing.has_value()) {
    content.drawings.emplace(id, std::move(drawing.value()));
  }
  report(content, file.name, std::move(findings));
}

void add_pack(Content& content, const NamedBytes& file, const std::vector<std::string>& drawings) {
  Findings findings;
  auto read = read_pack(file.bytes, &drawings, findings);
  if (!read.has_value()) {
    report(content, file.name, std::move(findings));
    return;
  }
  content.prints[read->model.sha] = std::move(read->print);
  content.library.models.push_back(std::move(read->model));
}

void read_demo(Content& content, const NamedBytes& file) {
  Findings findings;
  const auto value = data::parse(file.bytes);
  if (!value.has_value()) {
    Finding finding;
    finding.code = value.error().code;
    finding.what = value.error().text();
    findings.add(finding);
    report(content, file.name, std::move(findings));
    return;
  }
  data::Reader reader(value.value(), findings);
  Demo& demo = content.demo;
  demo.pack = reader.text("pack");
  demo.plate = reader.text_or("plate", "");
  demo.symptom = reader.text_or("symptom", "");
  demo.words = reader.text_or("words", "");
  demo.name = reader.text_or("name", "");
  demo.address = reader.text_or("address", "");
  demo.contact = reader.text_or("contact", "");
  reader.done();
  report(content, file.name, std::move(findings));
}

}  // namespace

Content load_content(const std::vector<NamedBytes>& files) {
  Content content;
  for (const NamedBytes& file : files) {
    if (ends_with(file.name, ".svg")) {
      read_drawing(content, file);
    }
  }
  std::vector<std::string> drawings;
  for (const auto& [id, drawing] : content.drawings) {
    drawings.push_back(id);
  }
  for (const NamedBytes& file : files) {
    if (ends_with(file.name, "pack.json")) {
      add_pack(content, file, drawings);
    } else if (ends_with(file.name, "rates.json")) {
      Findings findings;
      auto rates = bill::load_rates(file.bytes, findings);
      if (rates.has_value()) {
        content.rates = std::move(rates.value());
        content.has_rates = true;
      }
      report(content, file.name, std::move(findings));
    } else if (ends_with(file.name, "demo/job.json")) {
      read_demo(content, file);
    }
  }
  return content;
}

std::optional<ReadPack> read_pack(const std::string& text, const std::vector<std::string>* drawings,
                                  Findings& findings) {
  pack::Loaded loaded = pack::load(text);
  if (!loaded.pack.has_value()) {
    findings = std::move(loaded.findings);
    return std::nullopt;
  }
  Findings sense = pack::check(loaded.pack.value(),
                               drawings == nullptr ? std::vector<std::string>{} : *drawings,
                               loaded.places);
  const bool faulty = std::any_of(
      sense.all().begin(), sense.all().end(), [&](const Finding& one) {
        return one.severity == Severity::fault &&
               (drawings != nullptr || one.code != "unknown-drawing");
      });
  if (faulty) {
    findings = std::move(sense);
    return std::nullopt;
  }
  auto model = job::make_model(std::move(loaded.pack.value()));
  if (!model.has_value()) {
    Finding finding;
    finding.code = model.error().code;
    finding.what = model.error().what;
    finding.remedy = model.error().remedy;
    findings.add(finding);
    return std::nullopt;
  }
  ReadPack out{std::move(model.value()), {}};
  if (const auto value = data::parse(text); value.has_value()) {
    out.print = data::print(value.value());
    out.model.sha = sha256_hex(out.print);
  }
  return out;
}

std::vector<job::Body> demo_records(const Content& content) {
  const Demo& demo = content.demo;
  std::vector<job::Body> out;
  const int model = content.library.find(demo.pack);
  if (model < 0) {
    return out;
  }
  const pack::Pack& pack = content.library.models[to_size(model)].pack;
  out.emplace_back(job::MachineIdentified{pack.id, pack.about.version, demo.plate, {}, {}, {}, {}});
  out.emplace_back(job::ComplaintNoted{demo.symptom, demo.words});
  out.emplace_back(job::CustomerNoted{demo.name, demo.address, demo.contact});
  return out;
}

}  // namespace kp::app
