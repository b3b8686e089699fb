package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.ProbeName;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BooleanSupplier;

/**
 * Two faults at once: every pair of kinds, the guard's own frozen probe among them, in the
 * catalogue's cabinets and in rooms that never pass 30 °C.
 */
public final class Pairs {

    /** How far apart the two faults may come. */
    private static final double APART_HOURS = 6;

    /** How long after the second one a run goes on. */
    private static final double AFTER_HOURS = 12;

    /** The same where one of the two shows slowly. */
    private static final double AFTER_SLOW_HOURS = 5 * 24;

    private static final double SECONDS_PER_HOUR = 3600;

    /**
     * A kind of a pair.
     *
     * @param isGuardsProbe whether it hits the guard's own probe
     */
    public record Member(FaultKind kind, boolean isGuardsProbe) {

        /** As it stands in tables. */
        public String word() {
            return isGuardsProbe ? kind.word() + " (guard's)" : kind.word();
        }
    }

    /** Two of them. */
    public record Pair(Member first, Member second) {

        /** Whether it holds this kind. */
        public boolean has(FaultKind kind) {
            return first.kind() == kind || second.kind() == kind;
        }

        /** As it stands in tables. */
        public String words() {
            return first.word() + " + " + second.word();
        }

        /** The other one beside this kind. */
        public Member beside(FaultKind kind) {
            return first.kind() == kind ? second : first;
        }
    }

    /**
     * One run.
     *
     * @param ceilingAfterSeconds how long after the second fault eggs first passed the ceiling
     */
    public record Run(
            Pair pair, Scenario scenario, Verdict verdict, OptionalDouble ceilingAfterSeconds) {

        /** All about it in one line. */
        public String line() {
            StringBuilder line = new StringBuilder();
            line.append(
                    String.format(
                            Locale.ROOT,
                            "%-46s %5d eggs %.2f to %.2f:",
                            pair.words(),
                            scenario.seed(),
                            verdict.lowestEggCelsius(),
                            verdict.peakEggCelsius()));
            for (Scenario.TimedFault fault : scenario.faults()) {
                line.append(' ')
                        .append(fault.words())
                        .append(" at ")
                        .append(Times.words(fault.atSeconds()))
                        .append(';');
            }
            verdict.findings().stream()
                    .map(Verdict.FoundFinding::shortWords)
                    .distinct()
                    .forEach(words -> line.append(' ').append(words));
            return line.toString();
        }
    }

    private Pairs() {}

    /** Every pair of two different kinds. */
    public static List<Pair> all() {
        List<Member> members = new ArrayList<>();
        for (FaultKind kind : FaultKind.values()) {
            members.add(new Member(kind, false));
            if (kind == FaultKind.PROBE_FROZEN) {
                members.add(new Member(kind, true));
            }
        }
        List<Pair> pairs = new ArrayList<>();
        for (int i = 0; i < members.size(); i++) {
            for (int j = i + 1; j < members.size(); j++) {
                pairs.add(new Pair(members.get(i), members.get(j)));
            }
        }
        return pairs;
    }

    /** The run of a pair that a seed draws. */
    public static Scenario scenario(Pair pair, long seed) {
        Scenario.Cabinet cabinet = Catalogue.cabinet(seed);
        if ((pair.first().isGuardsProbe() || pair.second().isGuardsProbe())
                && !cabinet.probePositions().contains(ScenarioPlan.GUARD)) {
            List<String> more = new ArrayList<>(cabinet.probePositions());
            more.add(ScenarioPlan.GUARD);
            cabinet = cabinet.withProbes(more);
        }
        Draw draw = new Draw(seed, pair.words());
        double first =
                StrictMath.rint(
                        SECONDS_PER_HOUR
                                * draw.between(
                                        Catalogue.HEALTHY_HOURS_LEAST,
                                        Catalogue.HEALTHY_HOURS_MOST));
        double apart = StrictMath.rint(SECONDS_PER_HOUR * draw.between(0, APART_HOURS));
        boolean isInOrder = draw.inShare(0.5);
        double second = first + apart;
        List<Scenario.TimedFault> faults =
                List.of(
                        fault(pair.first(), draw, cabinet, isInOrder ? first : second),
                        fault(pair.second(), draw, cabinet, isInOrder ? second : first));
        boolean isSlow = pair.has(FaultKind.HEATER_WEAK) || pair.has(FaultKind.PROBE_DRIFT);
        double duration = second + SECONDS_PER_HOUR * (isSlow ? AFTER_SLOW_HOURS : AFTER_HOURS);
        return new Scenario(seed, duration, cabinet, faults, Catalogue.openings(seed, duration));
    }

    private static Scenario.TimedFault fault(
            Member member, Draw draw, Scenario.Cabinet cabinet, double atSeconds) {
        Scenario.TimedFault drawn = Catalogue.fault(member.kind(), draw, cabinet, atSeconds);
        if (member.isGuardsProbe()) {
            return new Scenario.TimedFault(
                    atSeconds,
                    drawn.forSeconds(),
                    member.kind()
                            .make(
                                    new FaultKeys(
                                            Optional.of(new ProbeName(ScenarioPlan.GUARD)),
                                            Optional.empty(),
                                            0,
                                            false)));
        }
        if (member.kind() == FaultKind.AMBIENT_STEP) {
            double warmest =
                    Catalogue.WARMEST_ROOM
                            - cabinet.build().ambientCelsius()
                            - cabinet.build().ambientSwingKelvin();
            double kelvin = FaultKind.number(drawn.what()).orElse(0);
            return new Scenario.TimedFault(
                    atSeconds,
                    drawn.forSeconds(),
                    member.kind().make(FaultKeys.of(StrictMath.min(kelvin, warmest))));
        }
        return drawn;
    }

    /** Runs what {@link #scenario} draws. */
    public static Run run(Pair pair, long seed, BooleanSupplier isStopped) {
        Scenario scenario = scenario(pair, seed);
        Verdict verdict = Rehearsal.run(scenario, isStopped);
        double second =
                scenario.faults().stream()
                        .mapToDouble(Scenario.TimedFault::atSeconds)
                        .max()
                        .orElse(0);
        OptionalDouble ceiling = verdict.firstAboveCeilingAtSeconds();
        return new Run(
                pair,
                scenario,
                verdict,
                ceiling.isPresent()
                        ? OptionalDouble.of(ceiling.getAsDouble() - second)
                        : OptionalDouble.empty());
    }
}
