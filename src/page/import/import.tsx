import { useEffect, useState } from "preact/hooks";
import type { components } from "../../../openapi/openapi.js";
import { api, ask, askAll, Refused } from "../client.js";
import { hrefOf } from "../route.js";
import type { ScreenProps, Shop } from "../shop.js";
import { type LayoutKept, type LayoutSent, newLayout } from "./layout-draft.js";
import { LayoutForm } from "./layout-form.js";
import { KeptReport, Report } from "./report.js";
import { type Answer, headOf, takeIn, tryFile } from "./take-in.js";
import { TrialLines } from "./trial.js";

type Head = Awaited<ReturnType<typeof headOf>>;
type Trial = components["schemas"]["LogLayoutTrial"];

function tryLayout(layout: LayoutSent, head: Head): Promise<Trial> {
  const named = { ...layout, name: layout.name.trim() || "a layout without a name" };
  return ask(api.POST("/v1/log-layouts/trials", { body: { layout: named, sample_base64: head.base64 } }));
}

/** A log of a machine or gauge: what would be read, how, into which job; then in with it. */
export default function Import({ route, shop, isLost }: ScreenProps) {
  const [layouts, setLayouts] = useState<LayoutKept[]>([]);
  const [file, setFile] = useState<File>();
  const [head, setHead] = useState<Head>();
  const [fits, setFits] = useState<{ kept: LayoutKept; trial: Trial }[]>([]);
  const [layoutId, setLayoutId] = useState("");
  const [layout, setLayout] = useState<LayoutSent>();
  const [trial, setTrial] = useState<Trial>();
  const [refusal, setRefusal] = useState<Refused>();
  const [fault, setFault] = useState("");
  const [batchId, setBatchId] = useState("");
  const [features, setFeatures] = useState<components["schemas"]["Part"]["features"]>([]);
  const [isOver, setOver] = useState(false);
  const fail = (error: Error) => setFault(error.message);

  useEffect(() => {
    listLayouts().then(setLayouts, fail);
  }, []);

  // Which of the kept layouts would read it.
  useEffect(() => {
    if (!head) return;
    let isLate = false;
    const look = async () => {
      const tried: typeof fits = [];
      for (const kept of layouts.slice(-20)) {
        if (isLate) return;
        const answer = await tryLayout(kept.layout, head).catch(() => undefined);
        if (answer && answer.readings > 0) tried.push({ kept, trial: answer });
      }
      tried.sort((a, b) => b.trial.readings - a.trial.readings || a.trial.refused - b.trial.refused);
      if (!isLate) setFits(tried);
    };
    void look();
    return () => {
      isLate = true;
    };
  }, [head, layouts]);

  // Each change of the layout is tried at once, and only the answer to the last one counts.
  useEffect(() => {
    if (!layout || !head) return;
    let isLate = false;
    const timer = setTimeout(() => {
      tryLayout(layout, head).then(
        (answer) => {
          if (isLate) return;
          setTrial(answer);
          setRefusal(undefined);
        },
        (error: Error) => {
          if (isLate) return;
          if (error instanceof Refused) setRefusal(error);
          else fail(error);
        },
      );
    }, 250);
    return () => {
      isLate = true;
      clearTimeout(timer);
    };
  }, [layout, head]);

  useEffect(() => {
    const batch = shop.batches.find(({ batch_id }) => batch_id === batchId);
    if (!batch) return setFeatures([]);
    ask(api.GET("/v1/parts/{part_id}", { params: { path: { part_id: batch.part_id } } })).then(
      (part) => setFeatures(part.features),
      fail,
    );
  }, [batchId]);

  const open = async (chosen: File | undefined) => {
    if (!chosen) return;
    setFault("");
    setFile(chosen);
    setHead(await headOf(chosen));
  };
  const choose = (kept: LayoutKept | undefined) => {
    setLayoutId(kept?.layout_id ?? "");
    setLayout(kept ? kept.layout : newLayout("table"));
    setTrial(undefined);
  };
  const save = async () => {
    if (!layout) return;
    const body = { ...layout, name: layout.name.trim() };
    const kept = await ask(
      layoutId === ""
        ? api.POST("/v1/log-layouts", { body })
        : api.PUT("/v1/log-layouts/{layout_id}", { params: { path: { layout_id: layoutId } }, body }),
    ).catch((error: Error) => {
      if (error instanceof Refused) setRefusal(error);
      throw error;
    });
    setLayoutId(kept.layout_id);
    setLayout(kept.layout);
    setLayouts(await listLayouts());
  };

  const ours = new Set(features.map(({ characteristic }) => characteristic));
  const names = [
    ...new Set(trial?.lines.flatMap(({ reading }) => reading?.characteristic ?? []) ?? []),
  ].filter((name) => ours.size > 0 && !ours.has(name));
  const faultAt = (pointer: string) =>
    refusal?.faults.find((one) => one.pointer.replace(/^\/layout(?=\/)/, "") === pointer)?.detail;
  const isKept =
    layout !== undefined &&
    layouts.some(
      (kept) => kept.layout_id === layoutId && JSON.stringify(kept.layout) === JSON.stringify(layout),
    );

  return (
    <div class="import">
      <h2 class="title">Import a log</h2>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is a way beside the file field in it */}
      <div
        class={`drop ${isOver ? "over" : ""}`}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          open(event.dataTransfer?.files[0]).catch(fail);
        }}
      >
        <label>
          Drop a file here, or choose one{" "}
          <input type="file" onChange={(event) => open(event.currentTarget.files?.[0]).catch(fail)} />
        </label>
        {file && (
          <p>
            <b>{file.name}</b>, {Math.ceil(file.size / 1024)} kB
            {head && !head.isWhole && "; the first part of it is looked at here"}
          </p>
        )}
      </div>
      {fault && <p role="alert">{fault}</p>}
      {head && (
        <label>
          read by{" "}
          <select
            value={layout ? layoutId || "new" : ""}
            onChange={(event) => {
              const { value } = event.currentTarget;
              if (value !== "") choose(layouts.find(({ layout_id }) => layout_id === value));
            }}
          >
            {!layout && <option value="">choose …</option>}
            {layouts.map((kept) => {
              const fit = fits.find((one) => one.kept.layout_id === kept.layout_id)?.trial;
              return (
                <option key={kept.layout_id} value={kept.layout_id}>
                  {kept.layout.name}
                  {fit && ` (${fit.readings} readings, ${fit.refused} refused)`}
                </option>
              );
            })}
            <option value="new">a new layout</option>
          </select>
        </label>
      )}
      {head && !layout && (
        <>
          {fits.slice(0, 3).map(({ kept, trial: { readings, refused } }) => (
            <button type="button" key={kept.layout_id} onClick={() => choose(kept)}>
              {kept.layout.name}: {readings} readings, {refused} refused
            </button>
          ))}
          <button type="button" onClick={() => choose(undefined)}>
            describe a new layout
          </button>
          <pre class="head">{head.text.split(/\r?\n/).slice(0, 12).join("\n")}</pre>
        </>
      )}
      {head && layout && (
        <>
          <Job shop={shop} batchId={batchId} choose={setBatchId} />
          <div class="beside">
            <section aria-label="Layout">
              <h3>How it is read</h3>
              <LayoutForm
                layout={layout}
                text={head.text}
                names={names}
                features={features}
                faultAt={faultAt}
                change={setLayout}
              />
              <form
                class="keep"
                onSubmit={(event) => {
                  event.preventDefault();
                  setFault("");
                  save().catch(fail);
                }}
              >
                <label>
                  name of the layout
                  <input
                    value={layout.name}
                    required
                    autocomplete="off"
                    aria-invalid={faultAt("/name") !== undefined}
                    onInput={(event) => setLayout({ ...layout, name: event.currentTarget.value })}
                  />
                  {faultAt("/name") && <span class="fault">{faultAt("/name")}</span>}
                </label>
                <button type="submit" disabled={isLost || isKept}>
                  {isKept ? "layout is kept" : "keep the layout"}
                </button>
              </form>
            </section>
            <div>
              {refusal && (
                <p role="alert">
                  The layout is not whole yet:{" "}
                  {refusal.faults.map(({ detail }) => detail).join("; ") || refusal.message}
                </p>
              )}
              {trial && (
                <TrialLines
                  trial={trial}
                  isWhole={head.isWhole}
                  choose={(change) => setLayout({ ...layout, ...change })}
                />
              )}
            </div>
          </div>
          {file && (
            <TakeIn
              key={`${file.name} ${file.size} ${file.lastModified}`}
              file={file}
              layout={layout}
              layoutId={isKept ? layoutId : ""}
              batchId={batchId}
              isLost={isLost}
            />
          )}
        </>
      )}
      {route.of[0] && <KeptReport key={route.of[0]} importId={route.of[0]} isLost={isLost} />}
      {!head && <Earlier />}
    </div>
  );
}

function Job({ shop, batchId, choose }: { shop: Shop; batchId: string; choose: (id: string) => void }) {
  return (
    <label>
      into the job{" "}
      <select value={batchId} onChange={(event) => choose(event.currentTarget.value)}>
        <option value="">that each line names</option>
        {shop.batches.map(({ batch_id, name, machine_id }) => (
          <option key={batch_id} value={batch_id}>
            {name} on {shop.machines.find((one) => one.machine_id === machine_id)?.name}
          </option>
        ))}
      </select>
    </label>
  );
}

interface TakeInProps {
  file: File;
  layout: LayoutSent;
  /** Empty as long as the layout is not kept as it stands. */
  layoutId: string;
  batchId: string;
  isLost: boolean;
}

function TakeIn({ file, layout, layoutId, batchId, isLost }: TakeInProps) {
  const [first, setFirst] = useState("");
  const [by, setBy] = useState("");
  const [dry, setDry] = useState<Answer>();
  const [taken, setTaken] = useState<Answer>();
  const [done, setDone] = useState<number>();
  const [fault, setFault] = useState("");
  const isBusy = done !== undefined;
  const counts = layout.piece_from === "count" || layout.piece_from === "serial";
  useEffect(() => setDry(undefined), [layoutId, batchId, first]);

  const run = async (work: (query: Parameters<typeof tryFile>[1]) => Promise<void>) => {
    setFault("");
    setDone(0);
    try {
      await work({
        layout_id: layoutId,
        source: file.name.slice(0, 100).trim(),
        ...(batchId !== "" && { batch_id: batchId }),
        ...(counts && first !== "" && { first_piece: Number(first) }),
        ...(by.trim() !== "" && { taken_by: by.trim() }),
      });
    } catch (error) {
      setFault((error as Error).message);
    } finally {
      setDone(undefined);
    }
  };

  return (
    <section aria-label="Take it in">
      <h3>Take it in</h3>
      <form onSubmit={(event) => event.preventDefault()}>
        {counts && (
          <label>
            the first piece in it is number
            <input
              value={first}
              inputMode="numeric"
              autocomplete="off"
              onInput={(event) => setFirst(event.currentTarget.value)}
            />
          </label>
        )}
        <label>
          who measured, if the file does not say
          <input value={by} autocomplete="name" onInput={(event) => setBy(event.currentTarget.value)} />
        </label>
        <button
          type="button"
          disabled={isLost || isBusy || layoutId === ""}
          onClick={() => void run(async (query) => setDry(await tryFile(file, query)))}
        >
          dry run
        </button>
        <button
          type="submit"
          class="main"
          disabled={isLost || isBusy || layoutId === ""}
          onClick={() =>
            void run(async (query) => {
              const answer = await takeIn(file, query, layout.format === "qif", ({ next_offset }) =>
                setDone(next_offset / file.size),
              );
              setDry(undefined);
              setTaken(answer);
              if (answer.import_id) location.hash = hrefOf("import", [answer.import_id]);
            })
          }
        >
          take it in
        </button>
      </form>
      {layoutId === "" && <p>Keep the layout first.</p>}
      {isBusy && (
        <p>
          <progress max={1} {...(done > 0 && { value: done })} aria-label="How far the file is read" />{" "}
          {done > 0 ? `${Math.round(done * 100)} %` : "reading …"}
        </p>
      )}
      {fault && <p role="alert">{fault}</p>}
      {dry && <Report counts={dry} refused={dry.refused} />}
      {taken?.next && <p class="said">{taken.next.why}</p>}
    </section>
  );
}

/** The files that came last. */
function Earlier() {
  const [items, setItems] = useState<components["schemas"]["ReadingImport"][]>([]);
  useEffect(() => {
    ask(api.GET("/v1/imports", { params: { query: { limit: 10 } } })).then(
      (page) => setItems(page.items),
      () => setItems([]),
    );
  }, []);
  if (items.length === 0) return null;
  return (
    <section aria-label="Earlier files">
      <h3>Earlier files</h3>
      <ul>
        {items.map(({ import_id, source, accepted, refused_count, started_at }) => (
          <li key={import_id}>
            <a href={hrefOf("import", [import_id ?? ""])}>{source ?? `import ${import_id}`}</a>: {accepted}{" "}
            readings, {refused_count} refused{started_at && `, ${new Date(started_at).toLocaleString()}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function listLayouts(): Promise<LayoutKept[]> {
  return askAll((cursor) =>
    ask(api.GET("/v1/log-layouts", { params: { query: { ...(cursor && { cursor }) } } })),
  );
}
