package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * Whether a cabinet was empty or loaded while it was surveyed. Full shelves stand in the air's way,
 * and DIN 12880 asks for its figures of an empty cabinet (from memory), so that the two are not to
 * be mixed up.
 *
 * @param said the keeper's word
 * @param saidOf the span of which that was said, where it was not said of this one
 * @param there tubs that stood in it meanwhile, by the record
 * @param isRecorded whether any tub of this cabinet was ever on record
 * @param moved tubs that came or went in the middle
 */
public record SurveyLoad(
        Optional<Kind> said,
        Optional<TimeSpan> saidOf,
        List<Tub> there,
        boolean isRecorded,
        List<Tub> moved) {

    public enum Kind {
        EMPTY,
        LOADED;

        /** In a sentence, for a person. */
        String word() {
            return this == EMPTY ? "empty" : "loaded";
        }
    }

    /**
     * What is known before a survey is made.
     *
     * @param said of the span
     * @param saidOfOther of the one to compare with
     * @param before what was said of earlier surveys, which counts where nothing is said now
     * @param tubs on record, of any cabinet and time
     */
    public record Known(
            Optional<Kind> said, Optional<Kind> saidOfOther, SurveyWords before, List<Tub> tubs) {

        /** Nobody said anything, and there are no tubs on record. */
        public static final Known NOTHING =
                new Known(Optional.empty(), Optional.empty(), SurveyWords.NONE, List.of());

        public Known {
            tubs = List.copyOf(tubs);
        }
    }

    public SurveyLoad {
        there = List.copyOf(there);
        moved = List.copyOf(moved);
    }

    /**
     * By a keeper's word and the record of tubs, over a span.
     *
     * @param said now
     */
    static SurveyLoad of(Optional<Kind> said, Known known, CabinetKey key, TimeSpan span) {
        Optional<SurveyWords.Load> before =
                said.isPresent() ? Optional.empty() : known.before().load(key, span);
        return of(
                said.or(() -> before.map(SurveyWords.Load::kind)),
                before.map(SurveyWords.Load::span),
                known.tubs(),
                key,
                span);
    }

    private static SurveyLoad of(
            Optional<Kind> said,
            Optional<TimeSpan> saidOf,
            List<Tub> tubs,
            CabinetKey key,
            TimeSpan span) {
        List<Tub> its = tubs.stream().filter(tub -> tub.key().equals(key)).toList();
        List<Tub> there =
                its.stream()
                        .filter(tub -> tub.from().isBefore(span.to()))
                        .filter(tub -> tub.to().map(span.from()::isBefore).orElse(true))
                        .toList();
        List<Tub> moved =
                there.stream()
                        .filter(
                                tub ->
                                        tub.from().isAfter(span.from())
                                                || tub.to()
                                                        .map(to -> to.isBefore(span.to()))
                                                        .orElse(false))
                        .toList();
        return new SurveyLoad(said, saidOf, there, !its.isEmpty(), moved);
    }

    /** Which it was: the keeper's word, else the record's; empty where neither is known. */
    public Optional<Kind> kind() {
        return said.isPresent() || !isRecorded ? said : Optional.of(recorded());
    }

    private Kind recorded() {
        return there.isEmpty() ? Kind.EMPTY : Kind.LOADED;
    }

    /** Of all tubs that stood in it. */
    public double kilograms() {
        return there.stream().mapToDouble(Tub::massGrams).sum() / 1000;
    }

    /** Which it was, who says so, and what does not fit; for a person. */
    public String words(Wording wording) {
        List<String> sentences = new ArrayList<>();
        if (kind().isEmpty()) {
            sentences.add(
                    "Whether it was empty or loaded is not known: nobody said so, and no tubs are on"
                            + " record.");
        } else if (said.isEmpty()) {
            sentences.add(
                    there.isEmpty()
                            ? "Empty: no tub was on record in it."
                            : "Loaded: " + tubs() + " on record in it.");
        } else {
            sentences.add(
                    (said.get() == Kind.EMPTY ? "Empty" : "Loaded")
                            + ", as said"
                            + saidOf.map(
                                            span ->
                                                    " of "
                                                            + wording.time(span.from())
                                                            + " to "
                                                            + wording.time(span.to()))
                                    .orElse("")
                            + (said.get() == Kind.LOADED && !there.isEmpty()
                                    ? "; " + tubs() + " on record in it."
                                    : "."));
        }
        contradiction().ifPresent(sentences::add);
        for (Tub tub : moved) {
            boolean isNew = tub.to().isEmpty();
            sentences.add(
                    "Tub "
                            + tub.name()
                            + (isNew
                                    ? " came in the middle, " + wording.time(tub.from())
                                    : " was moved in the middle: it stood there "
                                            + wording.time(tub.from())
                                            + " to "
                                            + wording.time(tub.to().get()))
                            + ".");
        }
        return String.join(" ", sentences);
    }

    private String tubs() {
        return (there.size() == 1 ? "1 tub" : there.size() + " tubs")
                + String.format(java.util.Locale.ROOT, " of %.1f kg", kilograms());
    }

    /** Where the keeper's word and the record of tubs don't agree. */
    public Optional<String> contradiction() {
        if (said.isEmpty() || !isRecorded || said.get() == recorded()) {
            return Optional.empty();
        }
        return Optional.of(
                said.get() == Kind.EMPTY
                        ? "But by the record "
                                + there.stream().map(Tub::name).collect(Collectors.joining(", "))
                                + " stood in it: which of the two is wrong?"
                        : "But by the record no tub stood in it: which of the two is wrong?");
    }

    /** Of two surveys, that they can't be told apart by the change alone. */
    Optional<String> unlike(SurveyLoad other) {
        return kind().isEmpty() || other.kind().isEmpty() || kind().equals(other.kind())
                ? Optional.empty()
                : Optional.of(
                        "One was surveyed empty and the other loaded: what changed may be the"
                                + " load's doing.");
    }
}
