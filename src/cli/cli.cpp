#include "cli/cli.hpp"

#include <algorithm>
#include <string_view>

#include <CLI/CLI.hpp>

#include "base/text.hpp"
#include "cli/commands.hpp"

namespace kp::cli {

namespace {

constexpr std::string_view kCommands[] = {"check",  "plan",   "refit", "read",   "strip",
                                          "find", "journal", "bill", "help",  "--help", "-h"};

void add_plan(CLI::App& app, const char* name, const char* about, const char* option,
              Wanted& wanted) {
  CLI::App* command = app.add_subcommand(name, about);
  command->add_option("PACK", wanted.pack, "a pack's file, or the id of one that ships")
      ->required();
  command->add_option(option, wanted.parts, "ids of parts, separated by commas")
      ->required()
      ->delimiter(',');
  command->add_flag("--json", wanted.json, "print JSON");
}

CLI::Option* add_pack(CLI::App* command, std::string& pack) {
  return command->add_option("PACK", pack, "a pack's file, or the id of one that ships")
      ->required();
}

void add_read(CLI::App& app, ReadWanted& wanted) {
  CLI::App* command = app.add_subcommand("read", "print what a meter shows in a machine");
  add_pack(command, wanted.pack);
  command->add_option("--points", wanted.points, "two test points, separated by a comma")
      ->delimiter(',');
  command->add_option("--clamp", wanted.clamp, "elements that the clamp goes round")
      ->delimiter(',');
  command->add_option("--mode", wanted.meter,
                      "ohm, continuity, volt, volt-low-impedance or ampere")
      ->required();
  command->add_option("--step", wanted.step, "step of the programme: its id, or its number from 1");
  command->add_option("--fault", wanted.faults, "ids of faults in the machine")->delimiter(',');
  command->add_option("--off", wanted.off, "leads that are off, as PART/TERMINAL")->delimiter(',');
  command->add_flag("--door-open", wanted.door_open, "the door is open");
  command->add_flag("--float-up", wanted.float_up, "the float is up");
  command->add_option("--celsius", wanted.celsius, "temperature of the machine");
  command->add_flag("--json", wanted.json, "print JSON");
}

void add_strip(CLI::App& app, StripWanted& wanted) {
  CLI::App* command = app.add_subcommand("strip", "print the live path that feeds a load");
  add_pack(command, wanted.pack);
  command->add_option("--load", wanted.load, "a part, or an element of the circuit")->required();
  command->add_option("--step", wanted.step, "step of the programme: its id, or its number from 1")
      ->required();
  command->add_option("--fault", wanted.faults, "ids of faults in the machine")->delimiter(',');
  command->add_option("--celsius", wanted.celsius, "temperature of the machine");
  command->add_flag("--svg", wanted.svg, "print a drawing");
  command->add_flag("--json", wanted.json, "print JSON");
}

void add_find(CLI::App& app, FindWanted& wanted) {
  CLI::App* command = app.add_subcommand("find", "print what the fault may be, and what to do next");
  add_pack(command, wanted.pack);
  command->add_option("--complaint", wanted.complaint, "id of the customer's complaint");
  command->add_option("--result", wanted.readings,
                      "a test with what it showed: heater-ohms=OL, supply-volts=121, latch-look=bad");
  command->add_option("--rates", wanted.rates, "the shop's rate card: parts are weighed against time");
  command->add_flag("--json", wanted.json, "print JSON");
}

/// The help of the command that was asked about.
std::string help_of(const CLI::App& app) {
  const auto asked = app.get_subcommands();
  return asked.empty() ? app.help() : help_of(*asked.front());
}

void add_verify(CLI::App* journals, VerifyWanted& wanted) {
  CLI::App* command =
      journals->add_subcommand("verify", "check form, chain, clocks and the sums of papers");
  command->add_option("FILE", wanted.path, "a journal's file")->required();
  command->add_option("--tip", wanted.tip,
                      "the mark of a paper, or 8 digits of its sum: say at which record it stands");
  command->footer("It ends with 0 when the journal is whole, 1 when it is whole and something was "
                  "found,\n2 when it was called wrongly, 3 when the file cannot be read or is no "
                  "journal,\n4 when it is cut, 5 when it was altered (form, chain or sums),\n6 when "
                  "it is not believable, 7 when records are newer than this program.");
}

void add_erase(CLI::App* journals, EraseWanted& wanted) {
  CLI::App* command = journals->add_subcommand(
      "erase", "take the customer's data out of a file, with the safety record kept");
  command->add_option("FILE", wanted.path, "a journal's file")->required();
  command->add_option("--out", wanted.out, "the file to write, instead of the same");
  command->add_flag("--notes", wanted.notes, "erase typed notes too");
  command->add_flag("--people", wanted.people, "erase names of those who worked too");
  command->footer("The file stays a whole journal: journal verify says how many parts are erased.\n"
                  "It ends with 0 when it is done, 2 when it cannot be written, 3 when it is no "
                  "journal.");
}

void add_compare(CLI::App* journals, CompareWanted& wanted) {
  CLI::App* command = journals->add_subcommand(
      "compare", "say at which record two journals of one job part");
  command->add_option("FIRST", wanted.first, "a journal's file")->required();
  command->add_option("SECOND", wanted.second, "another one")->required();
  command->footer("It ends with 0 when one holds all of the other, 1 when they part or are of two "
                  "jobs,\n3 when one is no journal.");
}

}  // namespace

bool is_command(const std::string& word) {
  return std::find(std::begin(kCommands), std::end(kCommands), word) != std::end(kCommands);
}

int run(const std::vector<std::string>& words, Files& files, Output& output) {
  CLI::App app{"kickplate: safe repair of domestic dishwashers, from plate to bill"};
  app.require_subcommand(1);

  std::string pack;
  app.add_subcommand("check", "list every fault of a pack")
      ->add_option("PACK", pack, "a pack's file, or the id of one that ships")
      ->required();
  Wanted in;
  add_plan(app, "plan", "print the cheapest order that reaches parts", "--reach", in);
  Wanted back;
  add_plan(app, "refit", "print the way back once parts are out", "--from", back);
  ReadWanted reading;
  add_read(app, reading);
  StripWanted strip;
  add_strip(app, strip);
  FindWanted finding;
  add_find(app, finding);
  std::string journal;
  CLI::App* journals = app.add_subcommand("journal", "look at a job's journal");
  journals->require_subcommand(1);
  VerifyWanted verify;
  add_verify(journals, verify);
  EraseWanted erasing;
  add_erase(journals, erasing);
  CompareWanted comparing;
  add_compare(journals, comparing);
  std::string rates;
  std::string folder;
  CLI::App* bill = app.add_subcommand("bill", "make invoice and service record from a journal");
  bill->add_option("JOURNAL", journal, "a journal's file")->required();
  bill->add_option("--rates", rates, "the shop's rate card")->required();
  bill->add_option("--out", folder, "the folder to write to")->required();

  app.footer("It ends with 0 when all is well, 1 when it found something, 2 when it was called "
             "wrongly.\njournal verify has further codes: see kickplate journal verify --help.");
  if (words.size() == 1 && words.front() == "help") {
    output.out = app.help();
    return kDone;
  }
  std::vector<std::string> reversed(words.rbegin(), words.rend());
  try {
    app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    output.out = help_of(app);
    return kDone;
  } catch (const CLI::ParseError& error) {
    output.err = cat(error.what(), "\n", app.help());
    return kUsage;
  }
  if (app.got_subcommand("check")) {
    return check_pack(pack, files, output);
  }
  if (app.got_subcommand("plan")) {
    return print_plan(in, false, files, output);
  }
  if (app.got_subcommand("refit")) {
    return print_plan(back, true, files, output);
  }
  if (app.got_subcommand("read")) {
    return print_reading(reading, files, output);
  }
  if (app.got_subcommand("strip")) {
    return print_strip(strip, files, output);
  }
  if (app.got_subcommand("find")) {
    return print_advice(finding, files, output);
  }
  if (journals->got_subcommand("erase")) {
    return erase_parts(erasing, files, output);
  }
  if (journals->got_subcommand("compare")) {
    return compare_journals(comparing, files, output);
  }
  if (app.got_subcommand("journal")) {
    return verify_journal(verify, files, output);
  }
  return write_bill(journal, rates, folder, files, output);
}

}  // namespace kp::cli
