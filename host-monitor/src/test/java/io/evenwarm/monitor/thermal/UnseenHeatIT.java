package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.outage.Edge;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.OutageReview;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Gaps of 6 to 18 h in which the mains was back for 1 to 3 h in the middle or until near the end,
 * with no reading of it and nothing in the log: how often that is noticed, and whether the band
 * holds what the coldest eggs truly came to. {@code -Dthermal.heated=100} for many.
 */
@Tag("long")
final class UnseenHeatIT {

    private static final int GAPS = Integer.getInteger("thermal.heated", 12);
    private static final long SEED = Long.getLong("thermal.seed", 70_001);
    private static final int HOUR = 3600;

    private int noticed;
    private int held;
    private double worst;

    private void live(int index, int hoursBeforeTheEnd) {
        Random random = new Random(SEED + index);
        PlantCabinet cabinet = new PlantCabinet(SEED + index, false);
        cabinet.run(4 * PlantCabinet.DAY + random.nextInt(PlantCabinet.DAY));
        ThermalFit fit = cabinet.fit(OptionalDouble.empty());
        Instant begin = Instant.ofEpochMilli(cabinet.nowMillis() - 1);
        int seconds = 6 * HOUR + random.nextInt(12 * HOUR);
        int heated = HOUR + random.nextInt(2 * HOUR);
        int last = Math.min(hoursBeforeTheEnd * HOUR, (seconds - heated) / 2);
        List<Double> truth = new ArrayList<>();
        cabinet.cutMains(true);
        run(cabinet, seconds - heated - last, truth);
        cabinet.returnMainsUnseen();
        run(cabinet, heated, truth);
        cabinet.cutMains(true);
        run(cabinet, last, truth);
        cabinet.returnMains();
        Instant end = Instant.ofEpochMilli(cabinet.nowMillis() + 1);
        run(cabinet, 6 * HOUR, truth);
        OutageReview review =
                OutageReview.of(
                        new Outage(
                                new CabinetKey(new AgentName("egg room"), new CabinetName("north")),
                                Outage.Kind.GAP,
                                "no readings",
                                new Edge(begin, begin, begin),
                                new Edge(end, end, end),
                                Set.of(Outage.Dark.AGENT),
                                Outage.Heat.NONE,
                                List.of()),
                        cabinet.record(),
                        Optional.of(fit),
                        0,
                        false,
                        List.of());
        boolean isKnown = review.coldest().filter(EggBand::isLikelyKnown).isPresent();
        noticed += isKnown ? 0 : 1;
        double coldest = truth.stream().mapToDouble(Double::doubleValue).min().orElseThrow();
        double below =
                review.coldest().map(band -> band.leastCelsius().low() - coldest).orElse(0.0);
        double above =
                review.coldest().map(band -> coldest - band.leastCelsius().high()).orElse(0.0);
        worst = Math.max(worst, Math.max(below, above));
        if (below > 0 || above > 0) {
            System.out.printf(
                    Locale.ROOT,
                    "gap %d is off: below %.2f K, above %.2f K%n",
                    index,
                    below,
                    above);
        }
        held += below <= 0 && above <= 0 ? 1 : 0;
    }

    private static void run(PlantCabinet cabinet, int seconds, List<Double> truth) {
        for (int minute = 0; minute < seconds / 60; minute++) {
            cabinet.run(60);
            truth.add(cabinet.truth().coldestTubCelsius());
        }
    }

    private void tell(String what) {
        System.out.printf(
                Locale.ROOT, "| %s | %d | %d | %d | %.2f K |%n", what, GAPS, noticed, held, worst);
    }

    @Test
    void heatUntilTheEndOfAGapIsNoticedAndTheBandHoldsTheColdest() {
        for (int i = 0; i < GAPS; i++) {
            live(i, 0);
        }
        tell("heated until the end");
        assertTrue(noticed >= 0.9 * GAPS, "noticed only " + noticed);
        assertTrue(held >= 0.9 * GAPS, "held only " + held);
    }

    @Test
    void heatInTheMiddleOfAGapMayGoUnnoticedAndTheBandIsThenOffByLessThanAKelvin() {
        for (int i = 0; i < GAPS; i++) {
            live(i, 3);
        }
        tell("heated until 3 h before the end");
        assertTrue(worst < 1, "the coldest was off the band by " + worst + " K");
    }
}
