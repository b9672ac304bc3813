package main

const usage = `ohmwright answers what a reading says about a solenoid circuit.

  ohmwright run TOOL < request.json    answer one request
  ohmwright run TOOL --ndjson          answer a request a line, each on a line
  ohmwright tools                      list the tools
  ohmwright describe TOOL              JSON Schemas of a tool's request and result
  ohmwright serve                      the page and the API on this machine
  ohmwright build DIRECTORY            write the page as a static site for any host

A winding that reads 6.90 ohm at 88 degC, leads 0.30 ohm, on a meter of 0.5 % + 2 digits of 0.01 ohm, specified 5.0 to
5.6 ohm at 20 degC: 5.21 ohm at 20 degC, verdict "within". (A meter is taken to have 1 % + 2 digits of 0.1 ohm unless
its accuracy is given; that one would leave it undecided.)

  echo '{"reading": "6.90 ohm", "leads": "0.30 ohm", "at": "88 degC",
         "meter": {"percent": 0.5, "counts": 2, "resolution": "0.01 ohm"},
         "specs": [{"min": "5.0 ohm", "max": "5.6 ohm"}]}' | ohmwright run winding

A loaded test, 13.2 V at the battery and 1.65 A by clamp, winding 5.3 ohm at 20 degC and now 88 degC:

  echo '{"supply": "13.2 V", "current": "1.65 A", "winding": "5.3 ohm",
         "winding_temperature": "88 degC"}' | ohmwright run loop

A pulsed drive, 13.8 V at 300 Hz and a duty of 45 % on the same winding of 12 mH, beside a limit of 3 A:

  echo '{"supply": "13.8 V", "resistance": "5.3 ohm", "winding_temperature": "88 degC", "inductance": "12 mH",
         "frequency": "300 Hz", "duty": "45 %", "driver_limit": "3 A"}' | ohmwright run drive

A recording of the current from switch-on, in a file of time and current:

  echo '{"supply": "13.8 V", "plunger": "moves"}' | ohmwright run trace --file recording=ramp.csv

What a code names, and which part of its circuit is at fault: a code low on a high side, 4.62 A where 1.9 A is
healthy, and 2.7 ohm at the component's connector say the component:

  echo '{"code": "P0962", "failure_type": "11"}' | ohmwright run code
  echo '{"side": "high", "return": "case", "supply": "13.8 V", "code_kind": "low",
         "spec": {"min": "5.0 ohm", "max": "5.6 ohm"}, "winding_temperature": "88 degC",
         "readings": [{"test": "current_on", "value": "4.62 A"},
                      {"test": "resistance_component", "value": "2.7 ohm"}]}' | ohmwright run circuit

Putting it back: what to set with an adapter on, whether the manual's pair agrees, and twelve bolts in order:

  echo '{"torque": "90 in-lb", "printed_as": "10 N.m", "adapter": {"wrench": "12 in", "extension": "3 in"},
         "wrench": {"max": "150 in-lb", "graduation": "5 in-lb"},
         "pattern": {"kind": "rectangle", "count": 12}}' | ohmwright run torque

An exercise: a fault hidden by a seed, readings asked for, and a decision that is marked:

  echo '{"seed": "bench 4", "asked": [{"test": "insulation_harness"}], "answer": "harness"}' | ohmwright run exercise

Exit status: 0 answered, 2 request refused, 1 anything else.
"ohmwright COMMAND --help" says more of run, serve and build.
`

const runHelp = `ohmwright run TOOL [--ndjson] [--file FIELD=PATH] [--locale TAG] < request

Reads one request, a JSON object, and prints the response. Quantities are texts with their unit: "9.7 ohm", "9,7Ω",
"1.2 kohm", "75 degF", "OL". "ohmwright describe TOOL" says what may be in the request.

  --ndjson        one request a line; each is answered on a line, in order. A line over 64 KiB (8 MiB for
                  trace) is refused and passed over; empty lines are passed over. Exit status 2 if any was refused.
  --file FIELD=PATH
                  puts a file's text into the request, for a field that takes one: trace --file recording=ramp.csv.
                  UTF-8, UTF-16 with its mark, or Windows-1252. The request may then be empty or {}.
  --locale TAG    the reader, such as de or fr-CA (default en): sentences in that language where it has a catalogue,
                  computed numbers in them written as there. Values stay the same.

  echo '{"reading": "OL", "at": "20 degC"}' | ohmwright run winding
  ohmwright run winding --ndjson < readings.ndjson > answers.ndjson

Exit status: 0 answered, 2 request refused, 1 anything else.
`

const serveHelp = `ohmwright serve [--address HOST:PORT] [--language TAG]

Serves the page at / and the API at /v1/TOOL (POST a request; 200, 422 refused, 413 over 64 KiB). GET /v1 lists the tools,
GET /v1/TOOL describes one. Keeps and logs nothing.

  --address HOST:PORT    default 127.0.0.1:8080; a port of 0 takes a free one
  --language TAG         the page's language, of those that have a catalogue (default en)

  ohmwright serve
  curl -d '{"reading": "9.7 ohm", "at": "24 degC"}' http://127.0.0.1:8080/v1/winding

Offline use needs https or localhost: browsers allow it nowhere else.
`

const buildHelp = `ohmwright build DIRECTORY [--language TAG]

Writes the page as a static site: plain files that any host can serve, at any path. Files of the same names in the
directory are replaced, others are left alone.

  --language TAG    the page's language, of those that have a catalogue (default en)

  ohmwright build public
`
