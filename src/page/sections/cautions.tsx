/** What can hurt, and what the figures are worth. */
import type { Section } from "./section.ts";

function Cautions() {
  return (
    <>
      <p>Figures are calculated for typical samples; a reading a fifth off is no fault yet.</p>
      <p>
        A set fed from the mains holds lethal voltages, its capacitors also after it is unplugged: unplug it,
        discharge them through a resistor and check with a meter before touching anything. The chassis of a
        set without an isolating transformer may be live; on this sheet “chassis” means 0 V, not earth.
      </p>
      <p>
        Cans and heat sinks may be live or hot, erase heads carry high voltage in record. A probe that slips
        from base to collector destroys a germanium transistor at once; so do a reversed battery and an
        ohmmeter on the wrong range.
      </p>
      <p>Follow the rules of your country, and leave mains wiring to those licensed for it.</p>
    </>
  );
}

export const cautions: Section = { id: "cautions", title: "Cautions", Content: Cautions };
