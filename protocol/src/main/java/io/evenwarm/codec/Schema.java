package io.evenwarm.codec;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.annotation.JsonSubTypes;
import com.fasterxml.jackson.annotation.JsonTypeInfo;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.EnumNamingStrategies;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.annotation.JsonDeserialize;
import com.fasterxml.jackson.databind.annotation.JsonSerialize;
import com.fasterxml.jackson.databind.introspect.AnnotatedMember;
import com.fasterxml.jackson.databind.introspect.AnnotatedParameter;
import com.fasterxml.jackson.databind.introspect.AnnotationIntrospectorPair;
import com.fasterxml.jackson.databind.introspect.JacksonAnnotationIntrospector;
import com.fasterxml.jackson.databind.introspect.NopAnnotationIntrospector;
import com.fasterxml.jackson.dataformat.cbor.CBORFactory;
import com.fasterxml.jackson.dataformat.cbor.CBORGenerator;
import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.ProbeReading;
import java.util.Optional;

/**
 * How the records of {@code message} stand in CBOR, kept apart from them so that they know nothing
 * of an encoding. {@code docs/protocol.md} says the same in CDDL; the golden messages in the tests
 * hold both to it.
 *
 * <p>A record is a map with its components' names as keys; sealed families add a key "type". An
 * empty Optional has no key. See {@link UnitKeys} for the keys of quantities and {@link Scalars}
 * for values that are no map.
 */
final class Schema {

    /** Deepest today: message, records, record, probes, probe; twice that is for later versions. */
    private static final int MAX_DEPTH = 12;

    private static final int MAX_KEY_LENGTH = 128;

    /** A 64-bit number has 20 digits; no schema needs longer ones. */
    private static final int MAX_NUMBER_LENGTH = 40;

    private Schema() {}

    static CBORMapper.Builder cbor() {
        CBORFactory factory =
                CBORFactory.builder()
                        .streamReadConstraints(
                                StreamReadConstraints.builder()
                                        .maxNestingDepth(MAX_DEPTH)
                                        .maxNameLength(MAX_KEY_LENGTH)
                                        .maxNumberLength(MAX_NUMBER_LENGTH)
                                        .maxStringLength(MessageCodec.MAX_OCTETS)
                                        .maxDocumentLength(MessageCodec.MAX_OCTETS)
                                        .build())
                        // A map with the same key twice is not valid (RFC 8949 s.5.6).
                        .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                        // A DS18B20's sixteenths are exact in 32 bits: 4 octets saved a reading.
                        .enable(CBORGenerator.Feature.WRITE_MINIMAL_DOUBLES)
                        .build();
        return CBORMapper.builder(factory)
                .addModule(new Jdk8Module())
                .addModule(Scalars.module())
                .addMixIn(Message.class, MessageTypes.class)
                .addMixIn(JournalRecord.class, RecordTypes.class)
                .addMixIn(ProbeReading.class, InReadingForm.class)
                .addMixIn(Command.class, CommandTypes.class)
                .addMixIn(CommandOutcome.class, OutcomeTypes.class)
                .propertyNamingStrategy(new UnitKeys())
                .enumNamingStrategy(EnumNamingStrategies.KEBAB_CASE)
                .annotationIntrospector(
                        AnnotationIntrospectorPair.create(
                                new MustBeThere(), new JacksonAnnotationIntrospector()))
                .defaultPropertyInclusion(
                        JsonInclude.Value.construct(
                                JsonInclude.Include.NON_ABSENT, JsonInclude.Include.ALWAYS))
                .disable(SerializationFeature.FAIL_ON_EMPTY_BEANS)
                .disable(MapperFeature.ALLOW_COERCION_OF_SCALARS)
                // A later version may add keys that this one does not know.
                .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
                .disable(DeserializationFeature.ACCEPT_FLOAT_AS_INT)
                .enable(DeserializationFeature.FAIL_ON_NUMBERS_FOR_ENUMS)
                .enable(DeserializationFeature.FAIL_ON_NULL_CREATOR_PROPERTIES)
                .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
                .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS);
    }

    /** Every component must be there, but an Optional, which is left out when empty. */
    private static final class MustBeThere extends NopAnnotationIntrospector {
        private static final long serialVersionUID = 1L;

        @Override
        public Boolean hasRequiredMarker(AnnotatedMember member) {
            return member instanceof AnnotatedParameter
                    && !Optional.class.equals(member.getRawType());
        }
    }

    @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "type")
    @JsonSubTypes({
        @JsonSubTypes.Type(value = Message.Hello.class, name = "hello"),
        @JsonSubTypes.Type(value = Message.Live.class, name = "live"),
        @JsonSubTypes.Type(value = Message.HistoryRequest.class, name = "history-request"),
        @JsonSubTypes.Type(value = Message.HistoryBatch.class, name = "history-batch"),
        @JsonSubTypes.Type(value = Message.Acknowledge.class, name = "acknowledge"),
        @JsonSubTypes.Type(value = Message.CommandRequest.class, name = "command-request"),
        @JsonSubTypes.Type(value = Message.CommandAnswer.class, name = "command-answer"),
        @JsonSubTypes.Type(value = Message.StatusRequest.class, name = "status-request"),
        @JsonSubTypes.Type(value = Message.StatusEnd.class, name = "status-end"),
        @JsonSubTypes.Type(value = Message.Time.class, name = "time"),
        @JsonSubTypes.Type(value = Message.KeepAlive.class, name = "keep-alive"),
        @JsonSubTypes.Type(value = Message.Goodbye.class, name = "goodbye"),
        @JsonSubTypes.Type(value = Message.Challenge.class, name = "challenge"),
        @JsonSubTypes.Type(value = Message.SignedCommand.class, name = "signed-command"),
        @JsonSubTypes.Type(value = Message.PairRequest.class, name = "pair-request"),
        @JsonSubTypes.Type(value = Message.PairCommit.class, name = "pair-commit"),
        @JsonSubTypes.Type(value = Message.PairNonce.class, name = "pair-nonce"),
        @JsonSubTypes.Type(value = Message.PairReveal.class, name = "pair-reveal"),
        @JsonSubTypes.Type(value = Message.PairConfirm.class, name = "pair-confirm"),
        @JsonSubTypes.Type(value = Message.PairResult.class, name = "pair-result"),
        @JsonSubTypes.Type(value = Message.PairOpen.class, name = "pair-open"),
        @JsonSubTypes.Type(value = Message.PairState.class, name = "pair-state"),
    })
    private interface MessageTypes {}

    @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "type")
    @JsonSubTypes({
        @JsonSubTypes.Type(value = JournalRecord.Readings.class, name = "readings"),
        @JsonSubTypes.Type(value = JournalRecord.Event.class, name = "event"),
    })
    private interface RecordTypes {}

    @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "type")
    @JsonSubTypes({
        @JsonSubTypes.Type(value = Command.SetSetPoint.class, name = "set-set-point"),
        @JsonSubTypes.Type(value = Command.ResetCutOff.class, name = "reset-cut-off"),
        @JsonSubTypes.Type(value = Command.Silence.class, name = "silence"),
        @JsonSubTypes.Type(value = Command.StartPlannedWork.class, name = "start-planned-work"),
        @JsonSubTypes.Type(value = Command.EndPlannedWork.class, name = "end-planned-work"),
        @JsonSubTypes.Type(value = Command.Tune.class, name = "tune"),
    })
    private interface CommandTypes {}

    @JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "type")
    @JsonSubTypes({
        @JsonSubTypes.Type(value = CommandOutcome.Done.class, name = "done"),
        @JsonSubTypes.Type(value = CommandOutcome.Refused.class, name = "refused"),
    })
    private interface OutcomeTypes {}

    @JsonSerialize(converter = ReadingForm.ToForm.class)
    @JsonDeserialize(converter = ReadingForm.FromForm.class)
    private interface InReadingForm {}
}
