package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class HistoryWorkerTest {

    private static final Instant NOW = Samples.NOON;

    private final List<TimeSpan> asked = new ArrayList<>();
    private boolean broken;
    private int answers;
    private final HistoryWorker worker =
            new HistoryWorker(new Recorded(), () -> 0, () -> answers++);

    private final class Recorded extends CurvesAlone {
        @Override
        public List<CabinetKey> cabinets() {
            return List.of(Samples.NORTH);
        }

        @Override
        public Optional<TimeSpan> extent(CabinetKey key) {
            return Optional.of(new TimeSpan(NOW.minus(Duration.ofDays(30)), NOW));
        }

        @Override
        public CabinetCurves curves(CabinetKey key, TimeSpan span) {
            if (broken) {
                throw new IllegalStateException("the disk is full");
            }
            asked.add(span);
            return new CabinetCurves(
                    key, span, List.of(), Curve.empty(), Curve.empty(), Optional.empty());
        }
    }

    private static HistoryWorker.Question question(long hours, boolean wholeTerm) {
        TimeSpan span = new TimeSpan(NOW.minus(Duration.ofHours(hours)), NOW);
        return new HistoryWorker.Question(Samples.NORTH, span, wholeTerm, span);
    }

    @Test
    void ofManyQuestionsOnlyTheNewestIsAnswered() {
        worker.ask(question(1, false));
        worker.ask(question(2, false));
        worker.ask(question(3, false));
        worker.step();
        worker.step();
        assertEquals(List.of(question(3, false).span()), asked);
        assertEquals(question(3, false), worker.answer().orElseThrow().question());
        assertEquals(1, answers);
    }

    @Test
    void theWholeTermReachesBackToTheFirstReading() {
        worker.ask(question(1, true));
        worker.step();
        assertEquals(Duration.ofDays(30), worker.answer().orElseThrow().span().length());
        assertEquals(
                Optional.of(NOW.minus(Duration.ofDays(30))), worker.answer().orElseThrow().first());
    }

    @Test
    void aStoreThatCantBeReadIsToldInWordsAndTheNextQuestionIsAskedAllTheSame() {
        broken = true;
        worker.ask(question(1, false));
        worker.step();
        assertTrue(
                worker.answer().orElseThrow().trouble().orElseThrow().contains("the disk is full"));
        broken = false;
        worker.ask(question(1, false));
        worker.step();
        assertTrue(worker.answer().orElseThrow().trouble().isEmpty());
    }

    @Test
    void cabinetsOfEarlierDaysAreKnown() {
        worker.lookForKnown();
        assertTrue(worker.known().containsKey(Samples.NORTH));
    }
}
