import type { Agent } from "supertest";

/** Bodies that are right; a test changes the one thing it is about. */
export function machineBody(change: object = {}) {
  return {
    name: "mill-2",
    kind: "mill",
    unit: "mm",
    least_increment: 0.001,
    largest_change: 0.2,
    largest_change_towards_work: 0.1,
    ...change,
  };
}

export function toolBody(machineId: string, change: object = {}) {
  return {
    machine_id: machineId,
    number: 7,
    name: "10 mm finishing end mill",
    kind: "end_mill",
    nominal_diameter: 10,
    life_pieces: 400,
    registers: [
      {
        number: 7,
        label: "D7 wear",
        controls: "radial",
        holds: "radius",
        sign: "normal",
        value: 0,
        largest_total: 0.15,
      },
      { number: 57, label: "H57 wear", controls: "axial", value: 0 },
    ],
    ...change,
  };
}

export function gaugeBody(change: object = {}) {
  return {
    name: "micrometer 0-25 no. 3",
    kind: "micrometer",
    unit: "mm",
    resolution: 0.001,
    repeatability: 0.0012,
    expanded_uncertainty: 0.003,
    coverage_factor: 2,
    calibration_due: "2027-03-01",
    ...change,
  };
}

export function featureBody(change: object = {}) {
  return {
    characteristic: "12",
    name: "Tongue width",
    kind: "external",
    operation: "20",
    nominal: "6",
    lower_deviation: -0.05,
    upper_deviation: 0.05,
    ...change,
  };
}

export function partBody(features: object[] = [featureBody()], change: object = {}) {
  return {
    number: "HB-2041",
    revision: "B",
    name: "Hinge bracket",
    unit: "mm",
    material: "aluminium",
    features,
    ...change,
  };
}

/** Posts a body that must be taken, and answers what came back. */
export async function create(api: Agent, path: string, body: object) {
  const response = await api.post(path).send(body);
  if (response.status !== 201) throw new Error(`${path}: ${response.status} ${response.text}`);
  return response.body;
}
