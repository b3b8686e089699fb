package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.alert.AlarmBoard;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Span;
import io.evenwarm.monitor.view.WindowEggs;
import java.util.Optional;

/** The cabinets' models as the window shows them. */
final class DeskEggs implements WindowEggs {

    private final AlarmBoard board;
    private final EggWatch models;

    DeskEggs(AlarmBoard board, EggWatch models) {
        this.board = board;
        this.models = models;
    }

    @Override
    public Optional<WithoutHeat> withoutHeat(CabinetKey key) {
        return board.timeLeft(key).flatMap(WithoutHeat::of);
    }

    @Override
    public Optional<Estimated> estimated(CabinetKey key) {
        return models.track(key).filter(track -> track.size() > 0).map(DeskEggs::curves);
    }

    private static Estimated curves(EggTrack track) {
        int size = track.size();
        long[] millis = new long[size];
        double[] likely = new double[size];
        double[] low = new double[size];
        double[] high = new double[size];
        for (int i = 0; i < size; i++) {
            millis[i] = track.epochMillis(i);
            Optional<Span> span =
                    track.isKnown(i) ? Optional.of(track.celsius(i)) : Optional.empty();
            likely[i] = span.map(Span::likely).orElse(Double.NaN);
            low[i] = span.map(Span::low).orElse(Double.NaN);
            high[i] = span.map(Span::high).orElse(Double.NaN);
        }
        return new Estimated(
                Curve.of(millis, likely, size),
                Curve.of(millis, low, size),
                Curve.of(millis, high, size));
    }
}
