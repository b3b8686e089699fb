package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

/** What a person wants is done in its order, and a failing log takes no alarm away. */
final class AlarmWorkerTest {

    private final InventedWindowAlarms alarms = new InventedWindowAlarms(Samples.NOON);
    private final AtomicInteger news = new AtomicInteger();
    private final AlarmWorker worker = new AlarmWorker(alarms, news::incrementAndGet);

    @Test
    void itTellsOnlyWhatBecameDifferent() {
        worker.round();
        worker.round();
        assertEquals(1, news.get());
        worker.want(port -> port.acknowledge("old fridge|Cabinet stale"));
        assertEquals(3, awaiting(), "nothing is done on the thread that asks");
        worker.round();
        assertEquals(2, awaiting());
        assertEquals(2, news.get());
    }

    private long awaiting() {
        return alarms.open().stream()
                .filter(alarm -> alarm.state().awaitsAcknowledgement())
                .count();
    }

    @Test
    void aRefusalStandsUntilTheNextThingIsDone() {
        worker.want(port -> port.acknowledge("nobody's"));
        worker.round();
        worker.round();
        assertEquals(Optional.of("This alarm is over."), worker.state().refusal());
        worker.want(port -> port.acknowledge("old fridge|Cabinet stale"));
        worker.round();
        assertEquals(Optional.empty(), worker.state().refusal());
    }

    @Test
    void theLogIsReadOnlyWhereItIsWantedAndMayFail() {
        worker.round();
        assertEquals(0, worker.state().log().size());
        worker.wantLog(true);
        worker.round();
        assertEquals(2, worker.state().log().size());
        alarms.logTrouble = Optional.of(new UncheckedIOException(new IOException("disk gone")));
        worker.round();
        assertTrue(worker.state().logTrouble().orElseThrow().contains("disk gone"));
        assertEquals(5, worker.state().open().size());
    }
}
