import { UnreadableXml, type XmlEvent } from "../xml/read-xml.js";

/** A small element with all that is in it. */
export interface Element {
  name: string;
  attributes: Readonly<Record<string, string>>;
  text: string;
  children: Element[];
  line: number;
  column: number;
}

const mostInside = 20_000;
const longestText = 2000;

/** Takes one element with all that is in it, from its opening to its closing. */
export class ElementTree {
  private readonly open: Element[] = [];
  private inside = 0;

  /**
   * @returns the element once it has been closed
   * @throws {UnreadableXml} if more than 20 000 elements stand in it
   */
  take(event: XmlEvent): Element | undefined {
    if (event.kind === "open") {
      const { name, attributes, line, column } = event;
      const element: Element = { name, attributes, text: "", children: [], line, column };
      this.inside += 1;
      if (this.inside > mostInside) {
        throw new UnreadableXml(
          line,
          column,
          `a ${this.open[0]!.name} with more than ${mostInside} elements in it`,
        );
      }
      this.open.at(-1)?.children.push(element);
      this.open.push(element);
      return undefined;
    }
    const last = this.open.at(-1);
    if (event.kind === "text") {
      if (last) last.text = (last.text + event.text).slice(0, longestText);
      return undefined;
    }
    this.open.pop();
    return this.open.length === 0 ? last : undefined;
  }
}

export function childOf(element: Element | undefined, name: string): Element | undefined {
  return element?.children.find((child) => child.name === name);
}

export function childrenOf(element: Element | undefined, name: string): Element[] {
  return element?.children.filter((child) => child.name === name) ?? [];
}

const longestShown = 200;

/** Its text without blanks around it, at most 200 characters; undefined: there is none. */
export function textOf(element: Element | undefined): string | undefined {
  return shortened(element?.text);
}

export function attributeOf(element: Element | undefined, name: string): string | undefined {
  return shortened(element?.attributes[name]);
}

function shortened(text: string | undefined): string | undefined {
  return text?.trim().replace(/\s+/g, " ").slice(0, longestShown).trim() || undefined;
}
