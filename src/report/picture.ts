/** A drawing as lines, marks and texts, in points from the upper left; how it is written is for who renders it. */
export interface Picture {
  width: number;
  height: number;
  title: string;
  /** What it shows, for who cannot see it. */
  description: string;
  shapes: Shape[];
}

export type Shape =
  | {
      kind: "line";
      points: readonly (readonly [x: number, y: number])[];
      ink: Ink;
      width: number;
      dash?: readonly number[];
    }
  | { kind: "mark"; x: number; y: number; of: "dot" | "ring" | "square"; size: number; ink: Ink }
  | {
      kind: "text";
      x: number;
      y: number;
      text: string;
      size: number;
      ink: Ink;
      anchor: "start" | "middle" | "end";
    };

/** Okabe and Ito, Color Universal Design (2008), beside black and grey; each comes with a shape or a dash of its own. */
export const inks = {
  black: "#000000",
  grey: "#666666",
  blue: "#0072b2",
  green: "#00795a",
  vermillion: "#c04a00",
} as const;
export type Ink = keyof typeof inks;
