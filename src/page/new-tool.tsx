import { useEffect, useState } from "preact/hooks";
import { api, ask } from "./client.js";
import { type Job, loadTools } from "./shop.js";
import { readNumber, show } from "./words.js";

interface NewToolProps {
  batch: Job["batch"];
  isLost: boolean;
  done: (words: string) => void;
}

const reasons = {
  worn: "worn",
  broken: "broken",
  chipped: "chipped",
  indexed: "insert turned",
  new_insert: "new insert",
  other: "other",
} as const;

/** A fresh edge: which tool, why, and what its offsets hold now. It counts from the next piece on. */
export function NewTool({ batch, isLost, done }: NewToolProps) {
  const [tools, setTools] = useState<Awaited<ReturnType<typeof loadTools>>>([]);
  const [chosen, choose] = useState("");
  const [fault, setFault] = useState("");
  useEffect(() => {
    loadTools(batch.machine_id).then(setTools, (error: Error) => setFault(error.message));
  }, [batch.machine_id]);
  const tool = tools.find(({ tool_id }) => tool_id === chosen) ?? tools[0];

  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    if (!tool) return;
    const typed = new FormData(event.currentTarget as HTMLFormElement);
    setFault("");
    try {
      const registers = tool.registers.map(({ register_id, label }) => {
        const value = readNumber(String(typed.get(register_id)));
        if (value === undefined) throw new Error(`Type what ${label} shows now, like ${show(-0.02)}.`);
        return { register_id, value };
      });
      const by = String(typed.get("by")).trim();
      const { next } = await ask(
        api.POST("/v1/tools/{tool_id}/edges", {
          params: { path: { tool_id: tool.tool_id } },
          body: {
            batch_id: batch.batch_id,
            reason: String(typed.get("reason")) as keyof typeof reasons,
            registers,
            ...(by !== "" && { by }),
          },
        }),
      );
      done(`New tool ${tool.number}. ${next.why}`);
    } catch (error) {
      setFault((error as Error).message);
    }
  };

  return (
    <form class="new-tool" aria-label="New tool" onSubmit={submit}>
      <label>
        tool
        <select value={tool?.tool_id} onChange={(event) => choose(event.currentTarget.value)}>
          {tools.map(({ tool_id, number, name }) => (
            <option key={tool_id} value={tool_id}>
              {number} {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        the old one was
        <select name="reason">
          {Object.entries(reasons).map(([reason, words]) => (
            <option key={reason} value={reason}>
              {words}
            </option>
          ))}
        </select>
      </label>
      {tool?.registers.map(({ register_id, label }) => (
        <label key={register_id}>
          {label} shows now <input name={register_id} inputMode="decimal" autocomplete="off" required />{" "}
          {tool.unit}
        </label>
      ))}
      <label>
        your name <input name="by" autocomplete="name" />
      </label>
      <button type="submit" disabled={isLost || !tool}>
        enter the new tool
      </button>
      {fault && <p role="alert">{fault}</p>}
    </form>
  );
}
