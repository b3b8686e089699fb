package io.evenwarm.agent.journal;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Temperature;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/**
 * What stays the same from one reading of a cabinet to the next: its name, its limits, and its
 * probes with their places. Kept once in the file and pointed to by each reading.
 */
record CabinetLayout(CabinetName cabinet, Limits limits, List<Place> places) {

    /** One probe, in the order of the readings. */
    record Place(ProbeName probe, ProbePlace place) {}

    CabinetLayout {
        places = List.copyOf(places);
    }

    static CabinetLayout of(Readings readings) {
        return new CabinetLayout(
                readings.cabinet(),
                readings.limits(),
                readings.probes().stream()
                        .map(probe -> new Place(probe.probe(), probe.place()))
                        .toList());
    }

    /** Four limits in °C as doubles, then name, kind and label of each probe as texts. */
    byte[] encode() throws IOException {
        ByteArrayOutputStream octets = new ByteArrayOutputStream(128);
        DataOutputStream out = new DataOutputStream(octets);
        out.writeDouble(limits.tooCold().celsius());
        out.writeDouble(limits.tooWarm().celsius());
        out.writeDouble(limits.cutOff().celsius());
        out.writeDouble(limits.ceiling().celsius());
        for (Place place : places) {
            out.writeUTF(place.probe().value());
            out.writeUTF(place.place().kind().name());
            out.writeUTF(place.place().label());
        }
        return octets.toByteArray();
    }

    static CabinetLayout decode(CabinetName cabinet, byte[] octets) throws IOException {
        DataInputStream in = new DataInputStream(new ByteArrayInputStream(octets));
        Limits limits =
                new Limits(
                        new Temperature(in.readDouble()),
                        new Temperature(in.readDouble()),
                        new Temperature(in.readDouble()),
                        new Temperature(in.readDouble()));
        List<Place> places = new ArrayList<>();
        while (in.available() > 0) {
            ProbeName probe = new ProbeName(in.readUTF());
            ProbePlace.Kind kind = ProbePlace.Kind.valueOf(in.readUTF());
            places.add(new Place(probe, new ProbePlace(kind, in.readUTF())));
        }
        return new CabinetLayout(cabinet, limits, places);
    }
}
