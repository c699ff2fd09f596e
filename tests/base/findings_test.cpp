#include "base/findings.hpp"

#include <doctest/doctest.h>

#include "base/result.hpp"

using kp::Finding;
using kp::Severity;

TEST_CASE("an error is one line for a person") {
  CHECK(kp::Error{"c", "what is wrong", "line 3", "Mend it."}.text() ==
        "line 3: what is wrong. Mend it.");
  CHECK(kp::Error{"c", "what is wrong", "", ""}.text() == "what is wrong");
  CHECK(kp::Error{"c", "what is wrong.", "", "Mend it."}.text() == "what is wrong. Mend it.");
  CHECK(kp::Error{"c", "", "line 3", ""}.text() == "line 3");
  CHECK(kp::Error{"c", "", "line 3", "Mend it."}.text() == "line 3: Mend it.");
}

TEST_CASE("a finding says where, what and how to mend it") {
  Finding finding{Severity::fault, "c", "/parts/3/name", 12, 5, "it is wrong", "Mend it."};
  CHECK(finding.text() == "line 12, /parts/3/name: it is wrong. Mend it.");
  finding.line = 0;
  CHECK(finding.text() == "/parts/3/name: it is wrong. Mend it.");
  finding.pointer.clear();
  CHECK(finding.text() == "it is wrong. Mend it.");
}

TEST_CASE("findings are counted, found by code, and sorted by place") {
  kp::Findings findings;
  findings.add(Finding{Severity::fault, "late", "/b", 9, 1, "b", ""});
  findings.add(Finding{Severity::warning, "early", "/a", 2, 7, "a", ""});
  findings.add(Finding{Severity::fault, "early", "/a", 2, 3, "z", ""});
  CHECK(findings.faults() == 2);
  CHECK(findings.has("late"));
  CHECK_FALSE(findings.has("never"));
  findings.sort();
  CHECK(findings.all()[0].what == "z");
  CHECK(findings.all()[1].what == "a");
  CHECK(findings.all()[2].what == "b");
}
