#include "job/codec.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"

namespace kp::job {

namespace {

const std::vector<std::string>& words_for(Stage) { return stage_words(); }
const std::vector<std::string>& words_for(Outcome) { return outcome_words(); }
const std::vector<std::string>& words_for(Phase) { return phase_words(); }
const std::vector<std::string>& words_for(Mode) { return mode_words(); }
const std::vector<std::string>& words_for(Deed) { return deed_words(); }
/// The words of an enumeration in its order.
template <class Enum, class Words>
std::vector<std::string> list_of(int count, Words words) {
  std::vector<std::string> out;
  for (int i = 0; i < count; ++i) {
    out.emplace_back(words(static_cast<Enum>(i)));
  }
  return out;
}

template <class Enum>
std::vector<std::string> safety_words(int count) {
  return list_of<Enum>(count, [](Enum one) { return safety::words(one); });
}

const std::vector<std::string>& words_for(safety::Act) {
  static const auto words = safety_words<safety::Act>(safety::kActs);
  return words;
}
const std::vector<std::string>& words_for(safety::Means) {
  static const auto words = list_of<safety::Means>(
      safety::kMeans, [](safety::Means one) { return safety::rule_of(one).word; });
  return words;
}
const std::vector<std::string>& words_for(safety::MeterFunction) {
  static const auto words = list_of<safety::MeterFunction>(
      safety::kMeterFunctions, [](safety::MeterFunction one) { return safety::word(one); });
  return words;
}
const std::vector<std::string>& words_for(safety::Connection) {
  static const std::vector<std::string> words = {"cord", "fixed"};
  return words;
}
const std::vector<std::string>& words_for(safety::System) {
  static const std::vector<std::string> words = {"single", "split"};
  return words;
}
const std::vector<std::string>& words_for(safety::Control) {
  static const auto words = safety_words<safety::Control>(safety::kControls);
  return words;
}
const std::vector<std::string>& words_for(safety::Answer) {
  static const auto words = safety_words<safety::Answer>(safety::kAnswers);
  return words;
}
const std::vector<std::string>& words_for(safety::Role) {
  static const auto words = safety_words<safety::Role>(safety::kRoles);
  return words;
}
const std::vector<std::string>& words_for(safety::Source) {
  static const auto words = safety_words<safety::Source>(safety::kSources);
  return words;
}
const std::vector<std::string>& words_for(safety::Found) {
  static const auto words = safety_words<safety::Found>(safety::kFounds);
  return words;
}
const std::vector<std::string>& words_for(safety::Support) {
  static const auto words = safety_words<safety::Support>(safety::kSupports);
  return words;
}
const std::vector<std::string>& words_for(safety::Doubt) {
  static const auto words = safety_words<safety::Doubt>(safety::kDoubts);
  return words;
}
const std::vector<std::string>& words_for(safety::SignalWord) {
  static const std::vector<std::string> words = {"notice", "caution", "warning", "danger"};
  return words;
}
const std::vector<std::string>& words_for(safety::Stayed) {
  static const auto words = safety_words<safety::Stayed>(safety::kStayed);
  return words;
}

/// Writes the members of a body that differ from their defaults.
class Writer {
 public:
  [[nodiscard]] data::Value take() { return std::move(out_); }

  void operator()(const char* name, const std::string& value) {
    if (!value.empty()) {
      out_.set(name, data::Value::of(std::string_view(value)));
    }
  }
  void operator()(const char* name, bool value) {
    if (value) {
      out_.set(name, data::Value::of(true));
    }
  }
  void operator()(const char* name, int value) { out_.set(name, data::Value::of(value)); }
  void operator()(const char* name, std::uint32_t value) {
    out_.set(name, data::Value::of(static_cast<std::int64_t>(value)));
  }
  void operator()(const char* name, std::int64_t value) { out_.set(name, data::Value::of(value)); }
  void operator()(const char* name, double value) {
    if (value != 0) {
      out_.set(name, data::Value::of(value));
    }
  }
  void operator()(const char* name, const data::Value& value) {
    if (value.kind != data::Kind::null) {
      out_.set(name, value);
    }
  }
  template <class T>
  void operator()(const char* name, const std::vector<T>& values) {
    if (values.empty()) {
      return;
    }
    data::Value list = data::Value::array();
    for (const T& value : values) {
      list.push(item(value));
    }
    out_.set(name, std::move(list));
  }
  template <class E>
    requires std::is_enum_v<E>
  void operator()(const char* name, E value) {
    const std::string& word = words_for(value)[to_size(static_cast<int>(value))];
    out_.set(name, data::Value::of(std::string_view(word)));
  }

 private:
  static data::Value item(const std::string& value) {
    return data::Value::of(std::string_view(value));
  }
  static data::Value item(std::uint32_t value) {
    return data::Value::of(static_cast<std::int64_t>(value));
  }
  static data::Value item(double value) { return data::Value::of(value); }

  data::Value out_ = data::Value::object();
};

/// Reads members into a body; keeps the first fault.
class Filler {
 public:
  explicit Filler(const data::Value& payload) : payload_(&payload) {}
  [[nodiscard]] const std::string& fault() const { return fault_; }
  /// `unknown-word` where a newer program may know it, else `bad-payload`.
  [[nodiscard]] const char* code() const { return code_; }
  /// The member that the fault is about.
  [[nodiscard]] const std::string& place() const { return place_; }

  /// Every member of the payload that no field asked for.
  void tell_unknown(std::string_view kind, Findings& notes) const {
    for (const data::Value::Member& member : payload_->members) {
      if (std::find(asked_.begin(), asked_.end(), member.first) != asked_.end()) {
        continue;
      }
      Finding note;
      note.severity = Severity::note;
      note.code = "unknown-member";
      note.pointer = cat("/", member.first);
      note.what = cat("\"", kind, "\" knows no \"", member.first, "\"");
      note.remedy = "Open this journal with the version of the program that wrote it.";
      notes.add(std::move(note));
    }
  }

  void operator()(const char* name, std::string& value) {
    if (const auto* member = get(name, data::Kind::string)) {
      value = member->text;
    }
  }
  // What is false or 0 is left out, so what is left out is false or 0, whatever a body begins with.
  void operator()(const char* name, bool& value) {
    const auto* member = get(name, data::Kind::boolean);
    value = member != nullptr && member->boolean;
  }
  void operator()(const char* name, int& value) { whole(name, value); }
  void operator()(const char* name, std::uint32_t& value) { whole(name, value); }
  void operator()(const char* name, std::int64_t& value) { whole(name, value); }
  void operator()(const char* name, double& value) {
    const auto* member = get(name, data::Kind::number);
    value = member != nullptr ? member->number : 0;
  }
  void operator()(const char* name, data::Value& value) {
    if (const auto* member = get(name, data::Kind::object)) {
      value = *member;
    }
  }
  template <class T>
  void operator()(const char* name, std::vector<T>& values) {
    if (const auto* member = get(name, data::Kind::array)) {
      for (const data::Value& item : member->items) {
        values.emplace_back();
        take(name, item, values.back());
      }
    }
  }
  template <class E>
    requires std::is_enum_v<E>
  void operator()(const char* name, E& value) {
    const auto* member = get(name, data::Kind::string);
    if (member == nullptr) {
      return;
    }
    const std::vector<std::string>& words = words_for(E{});
    for (int index = 0; index < to_int(words.size()); ++index) {
      if (words[to_size(index)] == member->text) {
        value = static_cast<E>(index);
        return;
      }
    }
    complain(name, "has an unknown word", "unknown-word");
  }

 private:
  const data::Value* get(const char* name, data::Kind kind) {
    asked_.emplace_back(name);
    const data::Value* member = payload_->find(name);
    if (member != nullptr && member->kind != kind) {
      complain(name, "has the wrong type");
      return nullptr;
    }
    return member;
  }

  template <class T>
  void whole(const char* name, T& value) {
    if (const auto* member = get(name, data::Kind::number)) {
      take(name, *member, value);
    }
  }

  void take(const char* name, const data::Value& item, std::string& out) {
    if (item.kind != data::Kind::string) {
      complain(name, "holds an item of the wrong type");
    }
    out = item.text;
  }
  void take(const char* name, const data::Value& item, double& out) {
    if (item.kind != data::Kind::number) {
      complain(name, "holds an item of the wrong type");
    }
    out = item.number;
  }
  template <class T>
    requires std::is_integral_v<T>
  void take(const char* name, const data::Value& item, T& out) {
    const auto number = parse_integer(item.text);
    if (item.kind != data::Kind::number || !number.has_value() ||
        !std::in_range<T>(number.value())) {
      complain(name, "is not a whole number in range");
      return;
    }
    out = static_cast<T>(number.value());
  }

  void complain(const char* name, const char* what, const char* code = "bad-payload") {
    if (fault_.empty()) {
      code_ = code;
      fault_ = cat("\"", name, "\" ", what);
      place_ = cat("/", name);
    }
  }

  const data::Value* payload_;
  std::vector<std::string> asked_;
  std::string fault_;
  std::string place_;
  const char* code_ = "bad-payload";
};

template <class T>
bool try_kind(std::string_view kind, const data::Value& payload, Findings& notes,
              Result<Body>& out) {
  if (kind != T::kKind) {
    return false;
  }
  T body;
  Filler filler(payload);
  T::fields(body, filler);
  if (!filler.fault().empty()) {
    out = fail(filler.code(), cat("The record of kind \"", kind, "\": ", filler.fault()),
               filler.place(), "Open the journal read-only and keep a copy of it.");
  } else {
    filler.tell_unknown(kind, notes);
    out = Body(std::move(body));
  }
  return true;
}

template <class... T>
bool try_kinds(std::string_view kind, const data::Value& payload, Findings& notes,
               Result<Body>& out, const std::variant<T...>*) {
  return (try_kind<T>(kind, payload, notes, out) || ...);
}

}  // namespace

std::string_view kind_of(const Body& body) {
  return std::visit([](const auto& one) { return std::string_view(one.kKind); }, body);
}

data::Value encode(const Body& body) {
  Writer writer;
  std::visit(
      [&](const auto& one) {
        using T = std::decay_t<decltype(one)>;
        T::fields(one, writer);
      },
      body);
  return writer.take();
}

Result<Body> decode(std::string_view kind, const data::Value& payload, Findings& notes) {
  Result<Body> out = fail("unknown-kind", cat("No record of kind \"", kind, "\" is known"), {},
                          "Open this journal with a newer version of the program.");
  if (payload.kind != data::Kind::object) {
    return fail("bad-payload", cat("The record of kind \"", kind, "\" has no object as its data"));
  }
  (void)try_kinds(kind, payload, notes, out, static_cast<const Body*>(nullptr));
  return out;
}

Result<Body> decode(std::string_view kind, const data::Value& payload) {
  Findings notes;
  return decode(kind, payload, notes);
}

Result<Body> canonical(const Body& body) {
  const auto written = data::parse(data::print(encode(body)));
  if (!written.has_value()) {
    return fail(written.error());
  }
  Result<Body> out = decode(kind_of(body), written.value());
  if (out.has_value()) {
    set_erased(out.value(), is_erased(body));
  }
  return out;
}

bool is_erased(const Body& body) {
  return std::visit(
      [](const auto& one) {
        if constexpr (requires { one.erased; }) {
          return one.erased;
        } else {
          return false;
        }
      },
      body);
}

void set_erased(Body& body, bool erased) {
  std::visit(
      [erased](auto& one) {
        if constexpr (requires { one.erased; }) {
          one.erased = erased;
        }
      },
      body);
}

}  // namespace kp::job
