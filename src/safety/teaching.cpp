#include "safety/guide.hpp"

namespace kp::safety {

const std::vector<Teaching>& teachings() {
  static const char* const gs38 = "HSE guidance note GS38, 4th edition, 2015";
  static const std::vector<Teaching> rows = {
      {"Five rules for work on dead parts",
       "Disconnect all poles. Secure them against being put back. Prove all poles dead. Earth and "
       "short-circuit. Guard live parts near by.",
       "EN 50110-1, clause 6.2 (clause number from memory)"},
      {"The fourth rule at low voltage",
       "Earthing may be left out at low voltage, unless the parts could become live by another way.",
       "EN 50110-1, from memory"},
      {"Prove the tester, then the circuit, then the tester",
       "A tester that fails between the two proofs has proved nothing.",
       "NFPA 70E 120.5, from memory; 29 CFR 1910.333(b)(2)(iv)(B) demands it above 600 V"},
      {"Probe tips", "At most 4 mm of bare metal; 2 mm or less is strongly advised.", gs38},
      {"Fused leads", "A multimeter's leads are usually fused at 500 mA or less.", gs38},
      {"Two-pole detector",
       "A two-pole detector is preferred to a multimeter for proving dead.",
       "GS38; detectors to EN 61243-3"},
      {"Measurement category",
       "CAT III for the wiring of the building, CAT II for circuits behind a plug.", "EN 61010"},
      {"Proximity and solenoid testers", "These cannot prove that AC voltage is absent.",
       "OSHA page on 29 CFR 1910.333"},
      {"Fifty volts",
       "Parts below 50 V to ground may stay on where no burn or arc threatens. "
       "This tool asks for less before it says dead.",
       "29 CFR 1910.333(a)(1)"},
      {"Ghost voltage",
       "A wire beside a live one shows some volts on a sensitive meter. "
       "The low-impedance range loads it down to nothing.",
       "common practice, no source"},
      {"Plug pins", "At most 34 V peak remain one second after the plug is out.",
       "IEC 60335-1, clause 22.5, from memory"},
      {"Who decides",
       "Local codes and the rules of the licensed trade come before anything said here.",
       "rule of this tool"},
  };
  return rows;
}

}  // namespace kp::safety
