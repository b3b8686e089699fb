package io.evenwarm.monitor.store;

import java.io.UncheckedIOException;

/** Asks a store from outside, on a connection a question. */
final class OutsideQueries extends Queries {

    private final StoreOutside store;

    OutsideQueries(StoreOutside store) {
        this.store = store;
    }

    @Override
    <R> R read(ReadPool.Query<R> query) {
        try {
            return store.read(query);
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }
}
