package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import java.util.Optional;

/**
 * How far a probe can be believed, and why, for a person.
 *
 * @param quality of its readings
 * @param entry what of its record that rests on; empty when it was never compared, or an option
 *     took the record's place
 * @param sensor what the probe is
 */
public record ProbeTrust(
        ProbeName probe, ProbeQuality quality, Optional<ProbeEntry> entry, SensorClass sensor) {

    /** Of a single reading: ± for 95 %, with all that is in it. */
    public double readingKelvin() {
        return quality.reading(0).expanded();
    }

    /** The probe's name, then {@link #grounds}. */
    public String words(Wording wording) {
        return probe + ": " + grounds(wording);
    }

    /** Correction, its source, and what a single reading is good for. */
    public String grounds(Wording wording) {
        return correction(wording)
                + "; a reading is good for ±"
                + wording.difference(Measure.TEMPERATURE, readingKelvin());
    }

    private String correction(Wording wording) {
        if (quality.offsetUncertainty().isEmpty()) {
            return (entry.isPresent()
                            ? "exchanged " + wording.time(entry.get().at()) + " and not compared"
                            : "never compared")
                    + " ("
                    + sensor.words()
                    + ", ±"
                    + wording.difference(Measure.TEMPERATURE, quality.classHalfWidth())
                    + " as bought)";
        }
        return corrected(wording)
                + entry.map(there -> ", " + source(there, wording)).orElse(", as said")
                + (quality.driftHalfWidth() < 0.005
                        ? ""
                        : ", up to ±"
                                + wording.difference(Measure.TEMPERATURE, quality.driftHalfWidth())
                                + " of drift since");
    }

    private String corrected(Wording wording) {
        return wording.signed(
                Measure.TEMPERATURE,
                Estimate.systematic(quality.offset(), quality.offsetUncertainty().orElse(0)));
    }

    /** What happened, with what, when. */
    public static String source(ProbeEntry entry, Wording wording) {
        return entry.kind().words()
                + (entry.reference().isEmpty() ? "" : " (" + entry.reference() + ")")
                + ", "
                + wording.time(entry.at());
    }
}
