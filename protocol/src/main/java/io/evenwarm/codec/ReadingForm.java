package io.evenwarm.codec;

import com.fasterxml.jackson.databind.util.StdConverter;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.util.Optional;

/**
 * A probe's reading in one flat map, since most of a journal is these: a value alone is good, with
 * a doubt uncertain, a doubt alone bad.
 *
 * @param celsius the value of a temperature
 * @param humidityPercent the value of a relative humidity
 * @param doubt why the reading is not good
 */
record ReadingForm(
        ProbeName probe,
        ProbePlace place,
        Optional<Double> celsius,
        Optional<Double> humidityPercent,
        Optional<Reading.Doubt> doubt,
        long sampledAtNanos) {

    static ReadingForm of(ProbeReading probeReading) {
        Reading reading = probeReading.reading();
        Optional<Double> celsius =
                reading.quantity()
                        .flatMap(q -> q.fold(t -> Optional.of(t.celsius()), h -> Optional.empty()));
        Optional<Double> percent =
                reading.quantity()
                        .flatMap(q -> q.fold(t -> Optional.empty(), h -> Optional.of(h.percent())));
        Optional<Reading.Doubt> doubt =
                reading.fold(
                        good -> Optional.empty(),
                        uncertain -> Optional.of(uncertain.doubt()),
                        bad -> Optional.of(bad.doubt()));
        return new ReadingForm(
                probeReading.probe(),
                probeReading.place(),
                celsius,
                percent,
                doubt,
                reading.sampledAtNanos());
    }

    ProbeReading toProbeReading() {
        return new ProbeReading(probe, place, reading());
    }

    private Reading reading() {
        if (celsius.isPresent() && humidityPercent.isPresent()) {
            throw new IllegalArgumentException(
                    "a reading has one value but this one has celsius and humidityPercent");
        }
        Optional<Quantity> value =
                celsius.<Quantity>map(Temperature::ofCelsius)
                        .or(() -> humidityPercent.map(RelativeHumidity::ofPercent));
        if (value.isPresent()) {
            return doubt.<Reading>map(
                            why -> new Reading.Uncertain(value.get(), why, sampledAtNanos))
                    .orElseGet(() -> new Reading.Good(value.get(), sampledAtNanos));
        }
        return new Reading.Bad(
                doubt.orElseThrow(
                        () ->
                                new IllegalArgumentException(
                                        "a reading must have celsius, humidityPercent or doubt")),
                sampledAtNanos);
    }

    static final class ToForm extends StdConverter<ProbeReading, ReadingForm> {
        @Override
        public ReadingForm convert(ProbeReading value) {
            return of(value);
        }
    }

    static final class FromForm extends StdConverter<ReadingForm, ProbeReading> {
        @Override
        public ProbeReading convert(ReadingForm value) {
            return value.toProbeReading();
        }
    }
}
