#include "app/terminal/help.h"

namespace sillwright::app::terminal {

namespace {

constexpr const char* k_all = R"(Sillwright checks a car side skirt against the sill and the doors it was
measured for, and writes what its maker needs.

  sillwright [JOB]                    open the window
  sillwright check JOB [--json]       print the findings
  sillwright handover JOB --to DIR    write the handover folder
  sillwright survey JOB [--json]      what the measuring book says
  sillwright other-hand JOB --to FILE the same part for the car's other side
  sillwright forming JOB              what the moulder is told
  sillwright COMMAND --help           more about one command

Options
  --picture FILE   write a picture (PNG) of the window to FILE, then end
  --measure-frames FILE
                   open JOB, measure how fast the window follows the hand,
                   write the numbers (JSON) to FILE, then end
  --version        print the version
  -h, --help       print this

Exit codes
  0   all findings hold; or done
  1   some findings fall short
  2   bad input: a word, a file or a place to write cannot be used
  3   our fault: the program failed
  4   none falls short, but some are not measured
  130 stopped

Examples
  sillwright "Estate A.sillwright"
  sillwright check "Estate A.sillwright"
  sillwright handover "Estate A.sillwright" --to estate-a-handover
  sillwright survey "Estate A.sillwright" --sheet sheet.pdf
  sillwright other-hand "Estate A.sillwright" --to "Estate A left.sillwright"

A job file whose name starts with a dash goes after -- (two dashes); one that is
named like a command is written with its folder: ./check
)";

constexpr const char* k_check = R"(sillwright check JOB [--json]
Prints the findings of a job, worst margin first: what was found, what is
needed, where, why, and what would mend it. Reads JOB and the mesh files that it
names; writes no file. Needs no display.

Options
  --json       print every number at full precision, for programs; units are in
               the key names
  -h, --help   print this

Exit codes
  0   all findings hold
  1   some findings fall short
  2   bad input: a word, a file or a place to write cannot be used
  3   our fault: the program failed
  4   none falls short, but some are not measured
  130 stopped

Examples
  sillwright check "Estate A.sillwright"
  sillwright check "Estate A.sillwright" --json > findings.json
)";

constexpr const char* k_handover = R"(sillwright handover JOB --to DIR
Checks a job, then writes its handover folder: nested sheets for the router
(DXF, SVG), the buck, the plug and the part (STEP, STL), sections (DXF), 1:1
templates and the papers for each trade (PDF, and one HTML page), mounts and cut
list (CSV), findings, cautions, and what to read first. Says where, and how the
findings stand. DIR may be new, empty, or a handover folder written
before: then it is written anew, and files that you put into it stay. Nothing of
yours is overwritten; a file of ours that was changed by hand is not either.
Needs no display.

Options
  --to DIR     the folder to write to; made if it does not exist
  -h, --help   print this

Exit codes
  0   written, whatever the findings say
  2   bad input: a word, a file or a place to write cannot be used
  3   our fault: the program failed
  130 stopped

Examples
  sillwright handover "Estate A.sillwright" --to estate-a-handover
)";

constexpr const char* k_survey = R"(sillwright survey JOB [--json] [--csv FILE] [--sheet FILE] [--copy FILE]
                      [--take FILE | --drop ID --why TEXT]
Adjusts the measuring book of a job and prints what it says: what to read again,
what is lacking, where every point is and how sure, each reading with how far it
is from the others, the hinge axes, and what to measure next. Needs no display.

Options
  --json       print every number at full precision, for programs; units are in
               the key names
  --csv FILE   write all readings to FILE, for a spreadsheet
  --sheet FILE write the blank measuring sheet (PDF), in the order of work
  --copy FILE  write a copy of the book (PDF): written, adjusted, sd, w
  --take FILE  take readings from FILE (CSV) into JOB first. Columns are found
               by their header: from, to, value, kind, third, up, set-up, sd,
               note, unit. Rows that cannot be taken are printed with row,
               column and reason; the others are taken
  --drop ID    leave a reading out first; it stays in the book with the reason
  --why TEXT   the reason
  -h, --help   print this

JOB is changed by --take and --drop alone; the older version stays beside it,
with ~ after its name. No other file that is there is overwritten.

Exit codes
  0   all findings of the book hold
  1   some fall short: a reading is to be read again, or sides differ
  2   bad input: a word, a file, a row or a place to write cannot be used
  3   our fault: the program failed
  4   none falls short, but something is not measured
  130 stopped

Examples
  sillwright survey "Estate A.sillwright" --sheet sheet.pdf
  sillwright survey "Estate A.sillwright" --take readings.csv
  sillwright survey "Estate A.sillwright" --drop r12 --why "tape had a twist"
)";

constexpr const char* k_other_hand = R"(sillwright other-hand JOB --to FILE
Makes the part for the car's other side: takes the design of JOB, in the mirror,
into the job that JOB names as its other hand, and writes that to FILE. Mounts,
doors, body and all else that was measured stay those of the other side. Refused
where the two sides differ by more than their measuring can explain, and where
the other side is not measured. JOB and the other side's file stay as they are.
Needs no display. Check the new job before anything is made from it.

Options
  --to FILE    the job file to write; it must not be there yet
  -h, --help   print this

Exit codes
  0   written
  2   bad input: a word, a file or a place to write cannot be used, or the
      sides differ
  3   our fault: the program failed
  130 stopped

Examples
  sillwright other-hand "Estate A.sillwright" --to "Estate A left.sillwright"
)";

constexpr const char* k_forming = R"(sillwright forming JOB
Prints what moulder, sculptor and router operator are told: the findings of the
stage Forming, worst margin first, then draw direction and draft, machine and
sheet, where it comes out thinnest, flutes with their bits, the mould chain, and
the ladder of sizes from the finished part down to the buck. In millimetres.
Writes no file. Needs no display.

Options
  -h, --help   print this

Exit codes
  0   all findings of the stage hold
  1   some findings fall short
  2   bad input: a word, a file or a place to write cannot be used
  3   our fault: the program failed
  4   none falls short, but some are not measured
  130 stopped

Examples
  sillwright forming "Estate A.sillwright"
)";

}  // namespace

std::string help(Topic topic) {
    switch (topic) {
        case Topic::check:
            return k_check;
        case Topic::handover:
            return k_handover;
        case Topic::survey:
            return k_survey;
        case Topic::other_hand:
            return k_other_hand;
        case Topic::forming:
            return k_forming;
        case Topic::all:
            break;
    }
    return k_all;
}

std::string version() {
    return "sillwright " SILLWRIGHT_VERSION;
}

}  // namespace sillwright::app::terminal
