#include "port/store_errors.hpp"

#include <doctest/doctest.h>

#include <string>

TEST_CASE("a job's id is plain enough for every medium") {
  CHECK(kp::port::is_job_id("a"));
  CHECK(kp::port::is_job_id("practice-9f3a5c7e11d20b64"));
  CHECK(kp::port::is_job_id(std::string(64, '0')));
  for (const char* bad : {"", "A", "a b", "../a", "a/b", "é", "a\n", "a_b"}) {
    CAPTURE(bad);
    CHECK_FALSE(kp::port::is_job_id(bad));
  }
  CHECK_FALSE(kp::port::is_job_id(std::string(65, '0')));
}

TEST_CASE("each failure has one wording") {
  CHECK(kp::port::bad_name_error("A b").text() ==
        "\"A b\" cannot name a job. Use 1 to 64 of a-z, 0-9 and '-'.");
  CHECK(kp::port::held_error("j1").text() ==
        "job j1: the job is open in another window. Close it there, or take it over here.");
  CHECK(kp::port::not_acquired_error("j1").text() ==
        "job j1: this window does not hold the job. Export the job, then open it again.");
  CHECK(kp::port::conflict_error("j1", 7, 4).text() ==
        "job j1: line 7 cannot follow line 4. Export the job, then open it again.");
  CHECK(kp::port::full_error().text() ==
        "there is no room left to save. Free some space. Export the job before you go on.");
  CHECK(kp::port::refused_error("").text() ==
        "this device does not save. Export the job before you go on.");
  CHECK(kp::port::refused_error("it is locked").text() ==
        "this device does not save: it is locked. Export the job before you go on.");
}

TEST_CASE("an error is found by its code") {
  for (const char* code : {"bad-name", "held", "not-acquired", "conflict", "full", "refused"}) {
    CAPTURE(code);
    CHECK(kp::port::store_error(code, "j", 2, "0").code == code);
  }
  CHECK(kp::port::store_error("conflict", "j1", 7, "4").text() ==
        kp::port::conflict_error("j1", 7, 4).text());
  CHECK(kp::port::store_error("odd", "j1", 7, "why").text() ==
        kp::port::refused_error("why").text());
}
