package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.Optional;

/**
 * Whether a figure keeps a limit, its uncertainty counted in on both sides (decision rule of ISO
 * 14253-1 and JCGM 106, 8.3: only what is proved passes, and only what is proved fails).
 *
 * @param margin to the limit from the nearer end of the figure's 95 % interval, in the unit of the
 *     readings: of {@link Answer#PASS} how much is left, of {@link Answer#FAIL} by how much it is
 *     surely passed, of {@link Answer#NOT_PROVED} by how much the interval reaches beyond the limit
 */
public record Verdict(Answer answer, double margin) {

    public enum Answer {
        PASS,
        FAIL,
        /** The limit lies within the figure's uncertainty. */
        NOT_PROVED
    }

    /** Of a figure that must not be above a limit. */
    static Verdict of(Estimate figure, double limit) {
        if (figure.high() <= limit) {
            return new Verdict(Answer.PASS, limit - figure.high());
        }
        return figure.low() > limit
                ? new Verdict(Answer.FAIL, figure.low() - limit)
                : new Verdict(Answer.NOT_PROVED, figure.high() - limit);
    }

    /** Passes when all points do; fails with the one that fails most; else is not proved. */
    static Optional<Verdict> overall(List<PointFigures> figures) {
        Optional<Verdict> overall = Optional.empty();
        for (PointFigures figure : figures) {
            if (figure.verdict().isPresent()) {
                Verdict here = figure.verdict().get();
                overall = Optional.of(overall.map(so -> worse(so, here)).orElse(here));
            }
        }
        return overall;
    }

    private static Verdict worse(Verdict one, Verdict other) {
        if (one.answer() != other.answer()) {
            return rank(one) > rank(other) ? one : other;
        }
        boolean isPass = one.answer() == Verdict.Answer.PASS;
        return one.margin() < other.margin() == isPass ? one : other;
    }

    private static int rank(Verdict verdict) {
        return switch (verdict.answer()) {
            case PASS -> 0;
            case NOT_PROVED -> 1;
            case FAIL -> 2;
        };
    }
}
