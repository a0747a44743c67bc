import type { Picture } from "./picture.js";

/** A document ready to be printed. */
export interface Printed {
  title: string;
  madeAt: string;
  blocks: AsyncIterable<Block> | Iterable<Block>;
}

/** What a printed report is made of, top to bottom; how it looks is decided where it is rendered. */
export type Block =
  | { kind: "title"; text: string; below: string }
  | { kind: "heading"; text: string }
  | { kind: "paragraph"; text: string }
  | { kind: "facts"; items: readonly (readonly [label: string, value: string])[] }
  | Table
  /** Side by side, one or two. */
  | { kind: "pictures"; pictures: readonly Picture[] }
  | { kind: "signatures"; roles: readonly string[] };

export interface Table {
  kind: "table";
  columns: readonly Column[];
  rows: readonly (readonly Cell[])[];
  /** Rows of one line each, which a column must not make higher. */
  dense: boolean;
}
export interface Column {
  /** Lines of its head. */
  title: readonly string[];
  /** Share of the width. */
  width: number;
  align: "left" | "right";
}
export interface Cell {
  text: string;
  /** Seen without colour too: framed or underlined, beside the letter in the text. */
  mark?: "bad" | "unsure" | undefined;
}

export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): Table {
  return { kind: "table", dense: false, columns, rows: rows.map((row) => row.map((text) => ({ text }))) };
}
export function left(title: string, width: number): Column {
  return { title: [title], width, align: "left" };
}
export function right(title: string, width: number): Column {
  return { title: [title], width, align: "right" };
}

/** To the minute, in UTC. */
export function sayInstant(instant: string): string {
  return `${instant.slice(0, 10)} ${instant.slice(11, 16)} UTC`;
}
