import { Client } from "./client.js";
import { exchangeResults } from "./exchange-results.js";
import { probeLog, readProbeLog } from "./probe-log.js";
import { readFiles } from "./read-files.js";
import { sayCapability } from "./say-capability.js";
import { type Expected, type Found, Shift, sayVerdict, type Typed } from "./shift.js";
import { setUpShop } from "./shop.js";
import { showPlan, showShop, showSizes, showWear } from "./show.js";
import { studyGauge } from "./study-gauge.js";
import type { Teller } from "./tell.js";
import { readToolDocument } from "./tool-document.js";

const mm = (characteristic: string, value: string): Typed => ({ characteristic, value, unit: "mm" });
const um = (characteristic: string, value: string): Typed => ({ characteristic, value, unit: "um" });
const inch = (characteristic: string, value: string): Typed => ({ characteristic, value, unit: "inch" });

const measure: Expected = { action: "measure" };
const runOn: Expected = { action: "run_on" };
const setOffset = (register: string, about: number): Expected => ({
  action: "set_offset",
  change: { register, about },
});

const machineSays = (characteristic: string, said: string, body: object): Found => ({
  characteristic,
  said,
  unit: "mm",
  ...body,
});
const typed = (characteristic: string, value: string, unit: string, body: object = {}): Found => ({
  characteristic,
  said: `${value} ${unit}`,
  value,
  unit,
  ...body,
});

const lastLook: Found[] = [
  typed("21", "19.971", "mm", { place: "0°" }),
  typed("21", "19.978", "mm", { place: "90°" }),
  typed("22", "120.02", "mm", { said: "120.02 mm at 29 °C", temperature_c: 29, gauge_temperature_c: 20 }),
  machineSays("23", "5 points", {
    points: [
      [-28, 0, 8.002],
      [0, -28, 8.004],
      [28, 0, 7.998],
      [0, 28, 8.001],
      [20, 20, 8.013],
    ],
  }),
  machineSays("24", "4 points, ball 2", {
    points: [
      [26.851, 0.09],
      [25.08, 1.859],
      [23.309, 0.09],
      [25.08, -1.679],
    ],
    ball_diameter: 2,
    true_position: [25, 0],
  }),
  typed("25", "29°50'", "deg"),
  typed("26", "1.21", "um"),
  { characteristic: "27", said: "NO-GO 1.5 turns", result: "pass", turns: 1.5 },
  { characteristic: "28", said: "none seen", result: "pass" },
  { characteristic: "29", said: "3 holes", count: 3 },
];
const secondLook = typed("21", "19.9776", "mm", { place: "90°", gauge: "coordinate machine" });

interface Scene {
  title: string;
  text: string;
  play(shift: Shift, tell: Teller): Promise<void>;
}

const scenes: Scene[] = [
  {
    title: "1  Mill 1, piece 1: the first cut on the safe side",
    text:
      "Nobody knows yet how tool 7 cuts. The service proposes a start value for D7 that leaves metal on: with it the " +
      "tongue comes out too big and the slot too small, and both can be cut again.",
    async play(shift, tell) {
      const [d7] = (await shift.wear("endMill")).registers;
      const start = d7?.safe_start ?? 0;
      shift.holds(start > 0, `a safe start of D7 wear has to be a plus, the service says ${start}`);
      await shift.enter("mill", "D7 wear", start, "safe side for the first cut");
      await shift.type("mill", 1, [mm("11", "12.112")], {
        ...setOffset("D7 wear", -0.056),
        action: "measure",
      });
      tell.say("The slot is measured with the calliper switched to inches, and so it is typed.");
      await shift.type(
        "mill",
        1,
        [
          inch("12", "0.6255"),
          mm("13", "5.01"),
          mm("17", "3.99"),
          mm("14", "5.53"),
          mm("15", "5.52"),
          mm("16", "5.53"),
        ],
        setOffset("D7 wear", -0.056),
      );
      tell.say(
        "One move of D7 puts both right. The piece is still clamped, so it is cut again with it: cut 2.",
      );
      await shift.apply("D7 wear", 1, measure, 2);
      await shift.type("mill", 1, [mm("11", "12.001"), mm("12", "16.00")], measure, 2);
      tell.say("Nothing is asked for twice: what cut 1 showed is in the register already.");
    },
  },
  {
    title: "2  Mill 1, piece 2: a slip while typing",
    text: "The calliper still shows inches, but this time the slot is typed as millimetres.",
    async play(shift, tell) {
      const typed = [
        mm("11", "12.001"),
        mm("12", "0.6300"),
        mm("13", "5.01"),
        mm("17", "3.99"),
        mm("14", "5.53"),
        mm("15", "5.52"),
        mm("16", "5.53"),
      ];
      const { readings } = await shift.type("mill", 2, typed, measure);
      const slot = readings[1]!;
      shift.holds(slot.flags.includes("implausible") && slot.slip !== null, "the slip has to be noticed");
      tell.say("A slip and no size: it is voided with its reason, and the slot is typed again.");
      await shift.voidReading(slot, "inches typed as millimetres", measure);
      await shift.type("mill", 2, [inch("12", "0.6300")], runOn);
    },
  },
  {
    title: "3  Mill 1: trust is earned",
    text: "Two good checks in a row, and not every piece is asked for any more:",
    async play(shift, tell) {
      await showPlan(shift, tell, "mill");
    },
  },
  {
    title: "4  Mill 1, pieces 4 to 10: the log of the probe",
    text: `The probe measures in the cycle and prints a log, ${probeLog}. It begins like this:`,
    async play(shift, tell) {
      const { rows, lines } = await readProbeLog();
      tell.quote(rows.slice(0, 5));
      tell.say(
        "Its lines are sent all at once, each known by file and number, with the offsets that it prints.",
      );
      const answer = await shift.send("mill", probeLog, lines);
      showSizes(shift, tell, answer.readings);
      const inTolerance = answer.readings.filter((reading) => sayVerdict(reading) === "in tolerance").length;
      tell.mark("log", `${lines.length} lines sent, ${inTolerance} sizes in tolerance`);
      shift.take(answer, setOffset("D7 wear", -0.004));
      await sendAgain(shift, tell);
      tell.say(
        "The tool wears: the tongue grows, the slot closes. Piece 11 is being cut as the answer comes, so the change " +
          "is keyed for piece 12.",
      );
      await shift.apply("D7 wear", 12, runOn);
    },
  },
  {
    title: "5  Mill 1: a late reading, and the next piece on size",
    text:
      "Piece 11 was cut before the change, but its tongue is measured after it. Taken by itself it asks for the same " +
      "correction once more.",
    async play(shift, tell) {
      const { corrections } = await shift.type("mill", 11, [mm("11", "12.010")], measure);
      const quiet = corrections.find((one) => one.kind === "leave_alone" && one.register_label === "D7 wear");
      shift.holds(quiet !== undefined, "the service has to say that D7 wear is left alone");
      tell.mark("advice", quiet!.why);
      tell.say("Piece 12 is the first one cut with the change:");
      const sizes = [mm("11", "12.001"), mm("12", "16.00"), mm("13", "5.01"), mm("17", "3.99")];
      await shift.type("mill", 12, sizes, runOn);
    },
  },
  {
    title: "6  Lathe 1, piece 1: a bore gauge that shows deviations",
    text:
      "The bore gauge is set to a ring of 12.002 mm and shows the difference in micrometres. The spigot comes out big, " +
      "but inside its limits.",
    async play(shift) {
      await shift.type(
        "lathe",
        1,
        [mm("1", "23.996"), mm("2", "8.01"), um("3", "+7")],
        setOffset("X1 wear", -0.006),
      );
      await shift.apply("X1 wear", 2, measure);
    },
  },
  {
    title: "7  Lathe 1, piece 2: two digits exchanged",
    text: "The micrometer shows 23.990, the fingers type 23.909.",
    async play(shift, tell) {
      const sizes = [mm("1", "23.909"), mm("2", "8.01"), um("3", "+5")];
      const { readings } = await shift.type("lathe", 2, sizes, measure);
      const spigot = readings[0]!;
      shift.holds(spigot.flags.includes("implausible") && spigot.slip !== null, "the slip has to be noticed");
      tell.say("It is no scrap, only a slip:");
      await shift.voidReading(spigot, "digits exchanged", measure);
      await shift.type("lathe", 2, [mm("1", "23.990")], measure);
    },
  },
  {
    title: "8  Lathe 1, piece 3: a bore that closes",
    text: "The boring bar wears and the bore gets smaller. On a lathe plus in X makes a bore bigger, like a shaft.",
    async play(shift) {
      const sizes = [mm("1", "23.991"), mm("2", "8.01"), um("3", "+2")];
      await shift.type("lathe", 3, sizes, setOffset("X3 wear", 0.003));
      await shift.apply("X3 wear", 4, measure);
    },
  },
  {
    title: "9  Lathe 1, pieces 4 and 5: a new edge",
    text:
      "Before piece 4 the insert of tool 1 chips. The new edge goes in with the register values of the old one; what " +
      "the service knew of the old edge does not count for it.",
    async play(shift) {
      await shift.changeEdge("lathe", "insert", 4, { "X1 wear": -0.006, "Z1 wear": 0 });
      const first = [mm("1", "23.994"), mm("2", "8.01"), um("3", "+7")];
      await shift.type("lathe", 4, first, setOffset("X1 wear", -0.004));
      await shift.apply("X1 wear", 5, measure);
      await shift.type("lathe", 5, [mm("1", "23.990"), mm("2", "8.01"), um("3", "+7")], measure);
    },
  },
  {
    title: "10  The end of the shift",
    text: "What the registers hold, how fast the tools wear, and what the next shift has to measure:",
    async play(shift, tell) {
      const tools = ["endMill", "insert", "boringBar"] as const;
      const wear = [];
      for (const tool of tools) wear.push(await shift.wear(tool));
      showWear(tell, wear);
      tell.say(
        "Per piece is what wear asks of the register; to limit counts the pieces until a size leaves its limits " +
          "without another correction. Fresh edge and safe start are proposals for the next edge.",
      );
      for (const place of ["mill", "lathe"] as const) await showPlan(shift, tell, place);
    },
  },
  {
    title: "11  Piece 1 is done: everything else on the drawing",
    text:
      "Sizes are not all of a drawing. The bearing seat is measured at two places and judged with a guard band, the " +
      "length is read warm, the face and the place of a bolt hole come as the points that were touched.",
    async play(shift, tell) {
      await shift.open("bench");
      const readings = await shift.inspect(1, lastLook, measure);
      const [, seat] = readings;
      const hole = readings.find(
        ({ upper_limit, size }) => size !== null && size > 0.2 && upper_limit! < 0.4,
      );
      shift.holds(seat!.verdict === "uncertain", "the seat at 90° has to be inside the guard band");
      shift.holds(hole?.verdict === "conforming", "the bolt hole has to be in place with its bonus");
      tell.say(
        `The seat at 90° is inside its limits, but not by more than the micrometer may be wrong. ${seat!.why}`,
      );
      tell.say("Why the bolt hole is in tolerance, though 0.2 mm is what the drawing gives it:");
      tell.list(hole!.arithmetic.slice(0, -1));
      tell.say("A finer gauge decides about the seat:");
      const again = await shift.inspect(1, [secondLook], measure);
      shift.holds(again[0]!.disposition === "accept", "the finer gauge has to clear the seat");
    },
  },
  {
    title: "12  Files: the probe's log and the measuring room's table",
    text:
      "Nobody types what a file says already. How a log is printed is described once; a line that could mean two things " +
      "is refused and kept, never guessed, and a file that comes twice changes nothing.",
    play: (shift, tell) => readFiles(shift.client, shift, tell),
  },
  {
    title: "13  A study of a gauge: what is its reading worth",
    text:
      "Two people read three parts twice each. What differs on one part is the gauge's and the readers' own; it has to be " +
      "small beside the tolerance. A real study takes ten parts and three people.",
    play: (shift, tell) => studyGauge(shift, shift.shop.gauges.micrometer!.gauge_id, tell),
  },
  {
    title: "14  What the machine says of its tools, and a person's yes",
    text:
      "Mill 1 publishes its tools. What it says is shown beside what stands here, from what to what; only what somebody " +
      "accepts is changed.",
    play: (shift, tell) => readToolDocument(shift, tell),
  },
  {
    title: "15  Results in the open standard's form, in and out",
    text:
      "A measuring room sends its results as a QIF document, and forgot to say the unit. By the standard that means metres. " +
      "Asking costs a minute; guessing a thousandfold.",
    play: exchangeResults,
  },
  {
    title: "16  Is it in control, is it capable: one sentence each",
    text:
      "Thirty hubs of a later job, all measured. The chart says whether anything moved; the index says what the customer asks for, with as many " +
      "decimals as thirty readings bear.",
    play: sayCapability,
  },
];

async function sendAgain(shift: Shift, tell: Teller): Promise<void> {
  const before = await shift.kept("mill");
  const { lines } = await readProbeLog();
  const again = await shift.send("mill", probeLog, lines);
  const after = await shift.kept("mill");
  const known = again.readings.filter(({ flags }) => flags.includes("duplicate")).length;
  tell.say("The file is sent a second time, as happens when a program is not sure that it got through:");
  tell.mark(
    "log",
    `${lines.length} lines sent, ${known} of them known already; the batch has ${before.readings} readings before and ` +
      `${after.readings} after it, and the same correction is open`,
  );
  shift.holds(known === lines.length, "every line of the log has to be known the second time");
  shift.holds(
    JSON.stringify(before) === JSON.stringify(after),
    "the same file sent again may change nothing, neither readings nor corrections",
  );
}

/** Lives the shift through the service at `address`. @throws {StoryError} when an answer is not what the story says */
export async function tellStory(
  address: string,
  tell: Teller,
  options: { key?: string | undefined; signal?: AbortSignal | undefined } = {},
): Promise<void> {
  const client = new Client(address, options);
  const calibrationDue = new Date(Date.now() + 200 * 86_400_000).toISOString().slice(0, 10);
  const shop = await setUpShop(client, calibrationDue);
  showShop(tell, shop);
  const shift = new Shift(client, tell, shop);
  for (const { title, text, play } of scenes) {
    tell.heading(title);
    tell.say(text);
    await play(shift, tell);
  }
}
