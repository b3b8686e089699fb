package io.evenwarm.codec;

import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonMappingException;
import com.fasterxml.jackson.databind.ObjectReader;
import com.fasterxml.jackson.databind.ObjectWriter;
import com.fasterxml.jackson.databind.cfg.MapperBuilder;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.HistoryBatch;
import java.io.IOException;
import java.util.List;
import java.util.stream.Collectors;

/**
 * Messages and journal records to CBOR (RFC 8949) and back; {@code docs/protocol.md} has the
 * schema.
 *
 * <p>Immutable; any thread may use one, and one is enough for a program: building it costs
 * milliseconds.
 */
public final class MessageCodec {

    /** The version of the protocol that this class speaks; goes into {@link Message.Hello}. */
    public static final int VERSION = 1;

    /** No encoded message is longer, so that each fits in a frame; in octets. */
    public static final int MAX_OCTETS = 65_536;

    private static final int MAX_REASON_LENGTH = 200;

    private final ObjectWriter messageWriter;
    private final ObjectReader messageReader;
    private final ObjectWriter recordWriter;
    private final ObjectReader recordReader;

    public MessageCodec() {
        this(Schema.cbor());
    }

    MessageCodec(MapperBuilder<?, ?> encoding) {
        var mapper = encoding.build();
        messageWriter = mapper.writerFor(Message.class);
        messageReader = mapper.readerFor(Message.class);
        recordWriter = mapper.writerFor(JournalRecord.class);
        recordReader = mapper.readerFor(JournalRecord.class);
    }

    /** The octets for {@code message}; more than {@value #MAX_OCTETS} of them fit in no frame. */
    public byte[] encode(Message message) {
        return write(messageWriter, message);
    }

    /** What {@code octets} mean, whatever they are. */
    public Decoded<Message> decode(byte[] octets) {
        return read(messageReader, octets);
    }

    /** One journal record in the schema of the messages, as an agent's journal keeps it. */
    public byte[] encodeRecord(JournalRecord entry) {
        return write(recordWriter, entry);
    }

    /** What {@link #encodeRecord} of this or an earlier version wrote. */
    public Decoded<JournalRecord> decodeRecord(byte[] octets) {
        return read(recordReader, octets);
    }

    /**
     * A batch of as many of {@code records}, from the first on, as fit in one message.
     *
     * @param journal the journal's name
     * @param records in order of sequence; those that do not fit belong in the next batch
     * @return holds at least one record unless {@code records} is empty, even one so long that it
     *     fits in no frame
     */
    public HistoryBatch batch(String journal, List<JournalRecord> records) {
        int octets = encode(new HistoryBatch(journal, List.of())).length;
        int fitting = 0;
        for (JournalRecord candidate :
                records.subList(0, Math.min(records.size(), HistoryBatch.MAX_RECORDS))) {
            octets += encodeRecord(candidate).length;
            // An array's head grows by up to 2 octets with its length (RFC 8949 s.3).
            if (fitting > 0 && octets + 2 > MAX_OCTETS) {
                break;
            }
            fitting++;
        }
        return new HistoryBatch(journal, records.subList(0, fitting));
    }

    private static byte[] write(ObjectWriter writer, Object value) {
        try {
            return writer.writeValueAsBytes(value);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a message must always have an encoding: " + value, e);
        }
    }

    // Jackson wraps what a record's constructor throws, but promises nothing of its own bugs; a
    // frame from outside must not end a session's thread.
    private static <T> Decoded<T> read(ObjectReader reader, byte[] octets) {
        if (octets.length == 0 || octets.length > MAX_OCTETS) {
            return new Decoded.NotUnderstood<>(
                    "must have 1 to " + MAX_OCTETS + " octets but has " + octets.length);
        }
        try {
            T value = reader.readValue(octets);
            return value == null
                    ? new Decoded.NotUnderstood<>("must be a map but is null")
                    : new Decoded.Understood<>(value);
        } catch (IOException | RuntimeException e) {
            return new Decoded.NotUnderstood<>(reason(e));
        }
    }

    private static String reason(Exception e) {
        String words =
                e instanceof JacksonException jackson
                        ? jackson.getOriginalMessage()
                        : String.valueOf(e.getMessage());
        String where = "";
        if (e instanceof JsonMappingException mapping && !mapping.getPath().isEmpty()) {
            where =
                    mapping.getPath().stream()
                                    .map(MessageCodec::step)
                                    .collect(Collectors.joining("/"))
                            + ": ";
        }
        return printable(where + words);
    }

    private static String step(JsonMappingException.Reference reference) {
        return reference.getFieldName() != null
                ? reference.getFieldName()
                : Integer.toString(reference.getIndex());
    }

    /** What came over a line may end in a log: no control characters, and not much of it. */
    private static String printable(String text) {
        String line = text.replaceAll("[\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}]+", " ");
        return line.length() <= MAX_REASON_LENGTH
                ? line
                : line.substring(0, MAX_REASON_LENGTH) + "…";
    }
}
