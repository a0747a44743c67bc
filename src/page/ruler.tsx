interface RulerProps {
  low: number | null;
  high: number | null;
  aim: number | null;
  sizes: readonly { at: number; name: string }[];
}

const width = 300;
const margin = 60;

/** Sizes between their limits: a bar from limit to limit, a notch at the aim, a pointer at each size. */
export function Ruler({ low, high, aim, sizes }: RulerProps) {
  if (low === null || high === null || high <= low) return null;
  const room = width - 2 * margin;
  const place = (at: number) => Math.min(width - 6, Math.max(6, margin + ((at - low) / (high - low)) * room));
  const isLeft = (at: number, i: number) =>
    sizes.every((other, j) => j === i || at < other.at || (at === other.at && i < j));
  return (
    <svg class="ruler" viewBox={`0 0 ${width} 40`} aria-hidden="true">
      <rect x={margin} y="22" width={room} height="8" class="room" />
      <path d={`M${margin} 16v20M${width - margin} 16v20`} class="limit" />
      {aim !== null && <path d={`M${place(aim)} 22v8`} class="aim" />}
      {sizes.map(({ at, name }, i) => (
        <g key={name}>
          <path
            d={`M${place(at)} 22l-6-10h12z`}
            class={i === sizes.length - 1 ? "pointer" : "pointer before"}
          />
          {sizes.length > 1 && (
            // Beside each other, however close the sizes are.
            <text x={place(at)} y="9" text-anchor={isLeft(at, i) ? "end" : "start"}>
              {name}
            </text>
          )}
        </g>
      ))}
    </svg>
  );
}
