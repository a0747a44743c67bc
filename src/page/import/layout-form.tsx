import { Choice, Text } from "../fields.js";
import {
  columnsOf,
  type Format,
  fieldWords,
  formatWords,
  type LayoutSent,
  newLayout,
  type RuleDraft,
  type Separator,
  type Shape,
  separatorWords,
  toRule,
  toRuleDraft,
} from "./layout-draft.js";

interface LayoutFormProps {
  layout: LayoutSent;
  /** The head of the file, for the names of its columns. */
  text: string;
  /** Names in the file that are no feature of the part, and the features that they may be. */
  names: string[];
  features: { characteristic: string; name: string | null }[];
  faultAt: (pointer: string) => string | undefined;
  change: (layout: LayoutSent) => void;
}

const ruleWords = {
  record: "the line is a reading",
  begin: "begins a reading of several lines",
  part: "continues it",
  end: "ends it",
  context: "holds for the lines after it",
  not_measured: "says that nothing was measured",
  skip: "tells nothing",
} as const;

/** How a file is read; each change is handed on at once. */
export function LayoutForm({ layout, text, names, features, faultAt, change }: LayoutFormProps) {
  const set = (part: Partial<LayoutSent>) => change({ ...layout, ...part });
  const { table, translate = {} } = layout;
  const known = { ...translate.characteristic };
  for (const name of names) known[name] ??= "";
  return (
    <div class="layout-form">
      <Choice
        label="the file is"
        value={layout.format}
        words={formatWords}
        choose={(format) => change({ ...newLayout(format as Format), name: layout.name })}
      />
      <Text
        label="lines to skip at the head"
        value={layout.skip_lines || ""}
        numeric
        type={(value) => set({ skip_lines: Number(value) || 0 })}
      />
      <Choice
        label="decimal sign"
        value={layout.decimal_sign ?? "."}
        words={{ ".": "point 12.003", ",": "comma 12,003", both: "either" }}
        choose={(sign) => set({ decimal_sign: sign as "." })}
      />
      <Choice
        label="between thousands"
        value={layout.grouping_sign ?? ""}
        words={{ "": "nothing", ",": "comma", ".": "point", " ": "space", "'": "apostrophe" }}
        choose={(sign) => set({ grouping_sign: (sign || null) as "," | null })}
        fault={faultAt("/grouping_sign")}
      />
      <Choice
        label="unit, where none is printed"
        value={layout.unit ?? ""}
        words={{ "": "not said", mm: "mm", inch: "inch", µm: "µm", mil: "mil (0.001 inch)", deg: "degrees" }}
        choose={(unit) => set({ unit: (unit || null) as "mm" | null })}
      />
      <Choice
        label="the piece's number is"
        value={layout.piece_from ?? "field"}
        words={{
          field: "in the file",
          serial: "by serial number: a new one is the next piece",
          count: "counted: a feature's next reading is the next piece",
        }}
        choose={(from) => set({ piece_from: from as "field" })}
        fault={faultAt("/piece_from")}
      />
      <Text
        label="all of it is of feature"
        value={layout.constants?.characteristic ?? ""}
        type={(characteristic) =>
          set({
            constants: without(layout.constants, "characteristic", characteristic.trim()),
          })
        }
      />
      {table && <TableForm layout={layout} text={text} faultAt={faultAt} set={set} />}
      {layout.format === "text" && <Rules layout={layout} faultAt={faultAt} set={set} />}
      {Object.keys(known).length > 0 && (
        <fieldset>
          <legend>Names in the file</legend>
          {Object.entries(known).map(([name, ours]) => (
            <Choice
              key={name}
              label={`"${name}" is`}
              value={ours}
              words={Object.fromEntries([
                ["", "itself"],
                ...[...new Set([ours, ...features.map(({ characteristic }) => characteristic)])]
                  .filter((one) => one !== "")
                  .map((one) => [
                    one,
                    `${one} ${features.find(({ characteristic }) => characteristic === one)?.name ?? ""}`,
                  ]),
              ])}
              choose={(one) =>
                set({ translate: { ...translate, characteristic: without(known, name, one, true) } })
              }
            />
          ))}
        </fieldset>
      )}
      <details>
        <summary>Dates, and what stands for no value</summary>
        <fieldset>
          <Text
            label="how dates are written, such as DD.MM.YYYY HH:mm:ss"
            value={layout.time_formats?.[0] ?? ""}
            type={(format) => set({ time_formats: format === "" ? [] : [format] })}
            fault={faultAt("/time_formats/0")}
          />
          <Text
            label="time zone, such as Europe/Berlin"
            value={layout.time_zone ?? ""}
            type={(zone) => set({ time_zone: zone || null })}
            fault={faultAt("/time_zone")}
          />
          <Text
            label="no value is written as, parted by commas"
            value={(layout.no_value ?? []).join(",")}
            type={(all) => set({ no_value: all === "" ? [] : all.split(",") })}
          />
          <Choice
            label="characters that can't be printed"
            value={layout.control_characters ?? "refuse"}
            words={{ refuse: "refuse the line", drop: "leave them out and note it" }}
            choose={(what) => set({ control_characters: what as "drop" })}
          />
        </fieldset>
      </details>
    </div>
  );
}

function TableForm({
  layout,
  text,
  faultAt,
  set,
}: Pick<LayoutFormProps, "layout" | "text" | "faultAt"> & { set: (part: Partial<LayoutSent>) => void }) {
  const table = layout.table!;
  const setTable = (part: Partial<typeof table>) => set({ table: { ...table, ...part } });
  const fieldOf = (name: string | number) =>
    Object.entries(table.columns).find(([, column]) => column === name)?.[0] ?? "";
  const columns = columnsOf(text, layout);
  return (
    <>
      <Choice
        label="between cells"
        value={table.separator}
        words={separatorWords}
        choose={(separator) => setTable({ separator: separator as Separator, columns: {} })}
      />
      <Choice
        label="the columns have"
        value={(table.header ?? true) ? "names" : "none"}
        words={{ names: "a row with their names", none: "no names" }}
        choose={(has) => setTable({ header: has === "names", columns: {} })}
      />
      <Choice
        label="a row holds"
        value={table.shape ?? "reading_per_row"}
        words={{
          reading_per_row: "one reading",
          piece_per_row: "a piece, a column for each feature",
          piece_per_column: "a feature, a column for each piece",
        }}
        choose={(shape) => setTable({ shape: shape as Shape })}
      />
      <fieldset>
        <legend>Columns</legend>
        {columns.map(({ name, title, example }) => (
          <Choice
            key={name}
            label={title}
            beside={example}
            value={fieldOf(name)}
            words={{
              "": (table.shape ?? "reading_per_row") === "reading_per_row" ? "not wanted" : "sizes, if any",
              ...fieldWords,
            }}
            choose={(field) => {
              const rest = Object.fromEntries(
                Object.entries(table.columns).filter(([one, column]) => column !== name && one !== field),
              );
              setTable({ columns: { ...rest, ...(field !== "" && { [field]: name }) } });
            }}
          />
        ))}
        {columns.length === 0 && <p>No columns are seen. Is the sign between the cells another one?</p>}
        {faultAt("/table/columns") && <p role="alert">The columns {faultAt("/table/columns")}.</p>}
      </fieldset>
    </>
  );
}

function Rules({
  layout,
  faultAt,
  set,
}: Pick<LayoutFormProps, "layout" | "faultAt"> & { set: (part: Partial<LayoutSent>) => void }) {
  const rules = (layout.rules ?? []).map(toRuleDraft);
  const setRule = (index: number, part: Partial<RuleDraft>) =>
    set({ rules: rules.map((rule, i) => toRule(i === index ? { ...rule, ...part } : rule)) });
  return (
    <fieldset>
      <legend>Lines, by the first rule that fits</legend>
      {rules.map((rule, index) => (
        // A rule has no name of its own: its place is what it is.
        <fieldset key={index} class="rule" aria-label={`Rule ${index + 1}`}>
          <Choice
            label={`rule ${index + 1}`}
            value={rule.kind}
            words={ruleWords}
            choose={(kind) => setRule(index, { kind: kind as RuleDraft["kind"] })}
          />
          <Choice
            label="read by"
            value={rule.how}
            words={{
              pattern: "a pattern with named groups",
              delimiter: "a sign between fields",
              columns: "fixed columns",
            }}
            choose={(how) =>
              setRule(
                index,
                how === "columns"
                  ? { how, fields: "characteristic 1-12, value 13-22" }
                  : { how: how as RuleDraft["how"], delimiter: "spaces", fields: "characteristic, value" },
              )
            }
          />
          {rule.how === "delimiter" && (
            <Text
              label="sign between fields (spaces, tab, or the sign)"
              value={rule.delimiter}
              type={(delimiter) => setRule(index, { delimiter })}
              fault={faultAt(`/rules/${index}/delimiter`)}
            />
          )}
          {rule.how !== "pattern" && (
            <Text
              label={
                rule.how === "columns"
                  ? "fields with their columns: value 13-22"
                  : "fields in their order; leave one empty that is not wanted"
              }
              value={rule.fields}
              type={(fields) => setRule(index, { fields })}
              wide
              lazy
              fault={faultAt(`/rules/${index}/fields`) ?? faultAt(`/rules/${index}/columns`)}
            />
          )}
          <Text
            label={
              rule.how === "pattern"
                ? "pattern, such as ^(?P<characteristic>\\S+) +(?P<value>\\S+)$"
                : "only lines that fit"
            }
            value={rule.pattern}
            type={(pattern) => setRule(index, { pattern })}
            wide
            fault={faultAt(`/rules/${index}/pattern`) ?? faultAt(`/rules/${index}`)}
          />
          <button
            type="button"
            onClick={() => set({ rules: (layout.rules ?? []).filter((_, i) => i !== index) })}
          >
            take rule {index + 1} away
          </button>
        </fieldset>
      ))}
      <button
        type="button"
        onClick={() =>
          set({
            rules: [
              ...(layout.rules ?? []),
              { kind: rules.some(({ kind }) => kind === "record") ? "context" : "record", pattern: "" },
            ],
          })
        }
      >
        add a rule
      </button>
      <Choice
        label="lines that no rule fits"
        value={layout.other_lines ?? "refuse"}
        words={{ refuse: "are kept and reported", skip: "are passed over" }}
        choose={(what) => set({ other_lines: what as "skip" })}
      />
      {faultAt("/rules") && <p role="alert">The rules {faultAt("/rules")}.</p>}
    </fieldset>
  );
}

function without(
  all: Record<string, string> | undefined,
  name: string,
  value: string,
  dropEmpty = false,
): Record<string, string> {
  return Object.fromEntries(
    Object.entries({ ...all, [name]: value }).filter(
      ([one, text]) => text !== "" || (!dropEmpty && one !== name),
    ),
  );
}
