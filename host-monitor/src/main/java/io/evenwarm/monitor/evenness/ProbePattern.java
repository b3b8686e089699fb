package io.evenwarm.monitor.evenness;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import org.apache.commons.math3.stat.descriptive.moment.StandardDeviation;
import org.apache.commons.math3.stat.regression.SimpleRegression;

/**
 * Sees thermometers that leave their usual place among the others, over weeks: drift.
 *
 * <p>Each place of a cabinet has its own temperature, and heat moves them apart: for {@value
 * #LEARNING_DAYS} days the watch learns of each probe {@code reading − median of the others = a + b
 * · duty}. From then on each day's median of what is left is held against {@link Disagreement}:
 * astray is a probe that is further from its own pattern than it and the others may drift in a year
 * ({@link ProbeRecord#DRIFT_KELVIN_A_YEAR}) and than its days usually scatter, on one side, for
 * {@value #LASTING_DAYS} days. Stretches in which the air is disturbed say nothing.
 *
 * <p>Readings are corrected by the offset in force at their time, so a probe that was checked again
 * is back in its place.
 */
final class ProbePattern {

    static final int LEARNING_DAYS = 14;
    static final int LASTING_DAYS = 7;

    private static final long DAY_MILLIS = 86_400_000;
    private static final int SLOTS_A_DAY = (int) (DAY_MILLIS / AirStretch.LENGTH_MILLIS);
    private static final int SLOTS_AN_HOUR = 6;
    private static final int QUIET_SLOTS_MIN = 36;
    private static final double QUIET_KELVIN = 0.6;
    private static final double QUIET_DUTY = 0.95;

    /** Of neighbouring hours, which are not independent, as in {@link FanWatch}. */
    private static final double SURELY = 9;

    /** Less than probes of 1/16 K can show, as the mean of a day. */
    private static final double LEAST_KELVIN = 0.02;

    private final SteadySet set = new SteadySet(place -> true);
    private final ProbeRecord record;
    private final long fromMillis;

    private List<Member> members = List.of();
    private int learnedDays;
    private long day = Long.MIN_VALUE;
    private int gathered;
    private final double[] duties = new double[SLOTS_A_DAY];

    /** What is known of one probe. */
    private static final class Member {
        private final String name;
        private final double step;
        private int index;
        private final double[] departures = new double[SLOTS_A_DAY];
        private final SimpleRegression line = new SimpleRegression();
        private final double[] learnedDuty = new double[LEARNING_DAYS];
        private final double[] learned = new double[LEARNING_DAYS];
        private double intercept;
        private double slope;
        private Optional<Disagreement> rule = Optional.empty();
        private OptionalLong since = OptionalLong.empty();
        private double left;

        /**
         * @param step smallest of its readings, K
         */
        Member(String name, double step, int index) {
            this.name = name;
            this.step = step;
            this.index = index;
        }

        /** Another table has its probes at other indices. */
        void find(AirTable table) {
            index = -1;
            for (int i = 0; i < table.probes(); i++) {
                if (table.name(i).equals(name)) {
                    index = i;
                }
            }
        }
    }

    /**
     * @param fromMillis what was before is of no use, in milliseconds since the epoch
     */
    ProbePattern(ProbeRecord record, long fromMillis) {
        this.record = record;
        this.fromMillis = fromMillis;
    }

    /** Takes what came next; those astray at its end, the farthest first. */
    List<ProbeAstray> add(AirTable table) {
        set.beginTable();
        members.forEach(member -> member.find(table));
        Offsets offsets = new Offsets(record, table);
        double[] celsius = new double[table.probes()];
        for (int slot = 0; slot < table.size(); slot++) {
            double off = table.meanCelsius(slot) - table.setPointCelsius(slot);
            double duty = table.duty(slot);
            boolean isQuiet = Math.abs(off) <= QUIET_KELVIN && duty < QUIET_DUTY;
            if (!isQuiet || table.beginMillis(slot) < fromMillis) {
                continue;
            }
            SteadySet.Answer answer = set.look(table, slot);
            if (answer == SteadySet.Answer.PASS_OVER) {
                continue;
            }
            if (answer == SteadySet.Answer.BEGIN_ANEW) {
                begin(table, slot);
            }
            long its = Math.floorDiv(table.beginMillis(slot), DAY_MILLIS);
            if (its != day) {
                endDay();
                day = its;
            }
            for (int i = 0; i < celsius.length; i++) {
                celsius[i] = table.celsius(i, slot) + offsets.at(i, table.beginMillis(slot));
            }
            take(celsius, duty);
        }
        return astray(table);
    }

    boolean isLearned() {
        return learnedDays == LEARNING_DAYS;
    }

    private void begin(AirTable table, int slot) {
        List<Member> there = new ArrayList<>();
        for (int i = 0; i < table.probes(); i++) {
            if (set.isThere(table, i, slot)) {
                Instant at = Instant.ofEpochMilli(table.beginMillis(slot));
                double step =
                        record.sensor(table.key(), table.probe(i), at).thermometer().resolution();
                there.add(new Member(table.name(i), step, i));
            }
        }
        members = List.copyOf(there);
        learnedDays = 0;
        gathered = 0;
    }

    private void take(double[] celsius, double duty) {
        if (members.size() < 2 || gathered == SLOTS_A_DAY) {
            return;
        }
        double[] others = new double[members.size() - 1];
        for (Member member : members) {
            int found = 0;
            for (Member other : members) {
                if (other != member) {
                    others[found++] = celsius[other.index];
                }
            }
            member.departures[gathered] = celsius[member.index] - Cells.median(others, found);
        }
        duties[gathered++] = duty;
    }

    private void endDay() {
        int count = gathered;
        gathered = 0;
        if (count < QUIET_SLOTS_MIN) {
            return;
        }
        double duty = Arrays.stream(duties, 0, count).average().orElse(0);
        for (Member member : members) {
            if (learnedDays < LEARNING_DAYS) {
                learn(member, count, duty);
            } else {
                judge(member, count, duty);
            }
        }
        if (learnedDays < LEARNING_DAYS && ++learnedDays == LEARNING_DAYS) {
            members.forEach(this::finishLearning);
        }
    }

    private void learn(Member member, int count, double duty) {
        for (int i = 0; i + SLOTS_AN_HOUR <= count; i += SLOTS_AN_HOUR) {
            member.line.addData(
                    Arrays.stream(duties, i, i + SLOTS_AN_HOUR).average().orElse(0),
                    Arrays.stream(member.departures, i, i + SLOTS_AN_HOUR).average().orElse(0));
        }
        member.learnedDuty[learnedDays] = duty;
        member.learned[learnedDays] = Cells.median(member.departures, count);
    }

    private void finishLearning(Member member) {
        double slope = member.line.getSlope();
        boolean isSure = Math.abs(slope) > SURELY * member.line.getSlopeStdErr();
        member.slope = isSure ? slope : 0;
        double[] left = new double[LEARNING_DAYS];
        for (int i = 0; i < LEARNING_DAYS; i++) {
            left[i] = member.learned[i] - member.slope * member.learnedDuty[i];
        }
        member.intercept = Cells.median(left, LEARNING_DAYS);
        double scatter = Math.max(LEAST_KELVIN, new StandardDeviation().evaluate(left));
        member.rule =
                Optional.of(
                        new Disagreement(
                                mayDrift(member.step, scatter),
                                mayDrift(member.step, 0),
                                0,
                                (LASTING_DAYS - 1) * DAY_MILLIS));
    }

    private static ProbeQuality mayDrift(double step, double scatter) {
        return new ProbeQuality(
                step, 0, 0, OptionalDouble.of(scatter), ProbeRecord.DRIFT_KELVIN_A_YEAR);
    }

    private void judge(Member member, int count, double duty) {
        member.left =
                Cells.median(member.departures, count) - member.intercept - member.slope * duty;
        member.since = member.rule.orElseThrow().add(day * DAY_MILLIS, member.left, 0);
    }

    private List<ProbeAstray> astray(AirTable table) {
        List<ProbeAstray> astray = new ArrayList<>();
        for (Member member : members) {
            if (member.since.isPresent() && member.index >= 0) {
                astray.add(
                        new ProbeAstray(
                                table.probe(member.index),
                                Optional.empty(),
                                member.since.getAsLong(),
                                member.left,
                                member.rule.orElseThrow().allowed()));
            }
        }
        astray.sort((one, two) -> Double.compare(Math.abs(two.kelvin()), Math.abs(one.kelvin())));
        return astray;
    }
}
