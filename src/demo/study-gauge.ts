import type { Shift } from "./shift.js";
import type { Teller } from "./tell.js";

/** What this program reads of a study. */
interface Study {
  gauge_study_id: string;
  verdict: string;
  why: string;
  repeatability: number;
}

/** Thousandths above 6 mm: three parts, two people, two trials each. */
const thousandths: Record<string, Record<string, readonly number[]>> = {
  "part 1": { "shift A": [2, 3], "shift B": [3, 3] },
  "part 2": { "shift A": [15, 15], "shift B": [16, 15] },
  "part 3": { "shift A": [-11, -12], "shift B": [-11, -11] },
};

/** Two people read three parts twice; what comes out is taken over by a person, not by the service. */
export async function studyGauge(shift: Shift, gaugeId: string, tell: Teller): Promise<void> {
  const readings = Object.entries(thousandths).flatMap(([part, people]) =>
    Object.entries(people).flatMap(([operator, values]) =>
      values.map((value, i) => ({ part, operator, trial: i + 1, value: (6 + value / 1000).toFixed(3) })),
    ),
  );
  const path = `/v1/gauges/${gaugeId}/studies`;
  const study = await shift.client.post<Study>(path, { unit: "mm", tolerance: 0.1, readings, by: "shift A" });
  shift.holds(study.verdict === "fit", `the gauge has to be fit, it is ${study.verdict}`);
  tell.mark("gauge", study.why);
  await shift.client.post(`${path}/${study.gauge_study_id}/accept`, { by: "measuring room" });
  const { repeatability } = await shift.client.get<{ repeatability: number }>(`/v1/gauges/${gaugeId}`);
  shift.holds(
    Math.abs(repeatability - study.repeatability) < 1e-6,
    "the accepted repeatability has to be the gauge's",
  );
  tell.say(`Accepted: from now on it counts with a repeatability of ${repeatability.toFixed(4)} mm.`);
}
