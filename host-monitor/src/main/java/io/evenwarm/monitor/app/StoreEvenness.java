package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.monitor.view.WindowEvenness;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What the store knows of probes, for the window. */
record StoreEvenness(StoreOutside store) implements WindowEvenness {

    @Override
    public ProbeRecord probes() {
        try {
            return store.probeRecord();
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public Optional<Instant> flowBegin(CabinetKey key) {
        try {
            return store.flowBegin(key);
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public List<Tub> tubs() {
        try {
            return store.tubs(true);
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public SurveyWords surveyWords() {
        try {
            return store.surveyWords();
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }
}
