#include "app/pack_shelf.hpp"

#include <algorithm>

#include "app/content.hpp"
#include "base/sha256.hpp"
#include "base/text.hpp"

namespace kp::app {

std::string pack_key(const std::string& sha) { return cat("pack-", sha); }

bool PackShelf::is_missing(const job::StandsOn& on, const job::Library& library) {
  return !on.pack_sha.empty() && std::none_of(library.models.begin(), library.models.end(),
                                              [&](const job::Model& model) {
                                                return model.pack.id == on.pack &&
                                                       model.sha == on.pack_sha;
                                              });
}

bool PackShelf::look_for(const std::string& sha, const std::vector<std::string>& lines) {
  if (sha.empty() || looked_for_ == sha) {
    return false;
  }
  looked_for_ = sha;
  lines_ = lines;
  return true;
}

void PackShelf::take(const port::Completion& done, const job::StandsOn& on, job::Library& library) {
  wrong_ = done.error ? done.error->text() : std::string();
  if (done.error || done.text.empty()) {
    return;
  }
  if (sha256_hex(done.text) != on.pack_sha) {
    wrong_ = "The pack kept under its sum has another sum: it is damaged.";
    return;
  }
  Findings findings;
  auto read = read_pack(done.text, nullptr, findings);
  if (!read || read->model.pack.id != on.pack) {
    wrong_ = cat("The pack kept with it cannot be read here",
                 findings.all().empty() ? "." : cat(": ", findings.all().front().text()));
    return;
  }
  (void)give_back(library);
  looked_for_ = on.pack_sha;
  lent_ = library.find(on.pack);
  if (lent_ < 0) {
    lent_ = to_int(library.models.size());
    library.models.push_back(std::move(read->model));
    return;
  }
  shipped_.push_back(std::exchange(library.models[to_size(lent_)], std::move(read->model)));
}

std::string PackShelf::why_not(const job::State& state, const job::Library& library) const {
  if (!is_missing(state.stands_on, library) || library.find(state.machine.pack) < 0) {
    return cat("The pack \"", state.machine.pack, "\" of this job is not here. ",
               wrong_.empty() ? "" : cat(wrong_, " "), "Add it to go on.");
  }
  const std::string& version = state.stands_on.pack_version;
  return cat("The pack \"", state.machine.pack, "\" that this job stands on",
             version.empty() ? "" : cat(", version ", version, ","), " is not here. ",
             wrong_.empty() ? std::string("Another of that name is.") : wrong_,
             " Go on where it was begun.");
}

bool PackShelf::give_back(job::Library& library) {
  looked_for_.clear();
  lines_.clear();
  wrong_.clear();
  if (lent_ < 0) {
    return false;
  }
  if (shipped_.empty()) {
    library.models.erase(library.models.begin() + lent_);
  } else {
    library.models[to_size(lent_)] = std::move(shipped_.front());
  }
  shipped_.clear();
  lent_ = -1;
  return true;
}

}  // namespace kp::app
